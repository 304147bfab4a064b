// A reading without a probe: this program sends one through the broker as a gateway would, so that the whole way is seen
// to work before anything is connected.

import { TEST_READING } from '../../../../lab/test-reading.ts';
import { ActButton } from '../../base/act-button.tsx';
import { send } from '../../base/api.ts';
import { formatTemperature } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { reader } from '../../live/lab-state.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';

export const TestReading = ({ onSent }: { readonly onSent?: (probe: string) => void }) => {
  const saving = useSaving();
  return (
    <>
      <p>{t('begin.test-explain', { value: formatTemperature(TEST_READING.celsius, reader.value) })}</p>
      <p>
        <ActButton
          text={t('begin.test')}
          disabled={saving.busy}
          onClick={() =>
            void saving.run(
              () => send('/api/test-reading'),
              () => onSent?.(TEST_READING.probe),
            )
          }
        />
      </p>
      <Refusal trouble={saving.refusal} retry={saving.retry} />
    </>
  );
};

// The lab itself: its name, its zone, when it is open.

import { asRead, put } from '../../base/api.ts';
import { t } from '../../base/messages.ts';
import { useLab } from '../../live/use-loaded.ts';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { SiteForm, siteBody } from './site-form.tsx';
import { noteDone } from '../../forms/undo.tsx';

export default function SiteSetUp() {
  const lab = useLab();
  const { value } = lab;
  return (
    <SetUpPage heading="site.title" explain="site.explain" needs="set-up-lab">
      <Refusal trouble={lab.trouble} retry={lab.reload} />
      {value && (
        <OpenedForm newest={value.version}>
          {({ version, takeSaved }) => (
            <SiteForm
              site={value.site}
              version={version}
              save="set-up.save"
              onSaved={(before) => {
                takeSaved();
                noteDone(t('site.saved'), () => put('/api/site', siteBody(before), asRead(version)));
              }}
            />
          )}
        </OpenedForm>
      )}
    </SetUpPage>
  );
}

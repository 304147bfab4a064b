// The lab itself: its name, its zone, when it is open.

import { put } from '../frame/api.ts';
import { t } from '../frame/messages.ts';
import { useLab } from './loaded.ts';
import { Refusal } from './saving.tsx';
import { SetUpPage } from './set-up-page.tsx';
import { SiteForm, siteBody } from './site-form.tsx';
import { tellDone } from './undo.tsx';

export default function SiteSetUp() {
  const lab = useLab();
  return (
    <SetUpPage heading="site.title" explain="site.explain" needs="set-up-lab">
      <Refusal saving={lab.loading} />
      {lab.value && (
        <SiteForm
          key={JSON.stringify(lab.value.site)}
          site={lab.value.site}
          save="set-up.save"
          onSaved={(before) => tellDone(t('site.saved'), () => put('/api/site', siteBody(before)))}
        />
      )}
    </SetUpPage>
  );
}

import { t } from '../frame/messages.ts';
export default function Screen() {
  return <h1>{t('app.name')}</h1>;
}

// A link that another device is to open: as a code for its camera, with a warning where it cannot.

import { renderSVG } from 'uqr';
import { t } from '../../base/messages.ts';
import { originForOthers, reachOfAddress } from '../../live/address-for-others.ts';
import './link-for-others.css';

/** The whole link to a path of this lab. */
export const linkForOthers = (path: string): string => originForOthers() + path;

/** What a camera reads. The picture is the encoder's own output of a text of ours. */
export const CameraCode = ({ text, label }: { readonly text: string; readonly label: string }) => (
  <span
    role="img"
    aria-label={label}
    dangerouslySetInnerHTML={{ __html: renderSVG(text, { ecc: 'M', border: 2 }) }}
  />
);

export const LinkForOthers = ({ path }: { readonly path: string }) =>
  reachOfAddress() === 'here' ? (
    <p class="link-unreachable" role="note">
      {t('link.unreachable', { address: location.host })}
    </p>
  ) : (
    <figure class="link-code">
      <CameraCode text={linkForOthers(path)} label={t('link.code')} />
      <figcaption>{t('link.scan')}</figcaption>
    </figure>
  );

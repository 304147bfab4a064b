// A link that another device is to open: as a code for its camera, with a warning where it cannot.

import { renderSVG } from 'uqr';
import { t } from '../../base/messages.ts';
import { originForOthers, reachOfAddress } from '../../live/address-for-others.ts';
import './link-for-others.css';

/** The whole link to a path of this lab. */
export const linkForOthers = (path: string): string => originForOthers() + path;

export const LinkForOthers = ({ path }: { readonly path: string }) =>
  reachOfAddress() === 'here' ? (
    <p class="link-unreachable" role="note">
      {t('link.unreachable', { address: location.host })}
    </p>
  ) : (
    <figure class="link-code">
      {/* The encoder's own output of an address of ours. */}
      <span
        role="img"
        aria-label={t('link.code')}
        dangerouslySetInnerHTML={{ __html: renderSVG(linkForOthers(path), { ecc: 'M', border: 2 }) }}
      />
      <figcaption>{t('link.scan')}</figcaption>
    </figure>
  );

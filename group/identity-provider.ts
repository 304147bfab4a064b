// Sign-in by an identity provider: OpenID Connect Core 1.0, authorization code with PKCE (RFC 7636), state and nonce. What
// begins a sign-in is kept by the browser that began it, so that any copy of the process can finish it.

import {
  allowInsecureRequests,
  authorizationCodeGrant,
  buildAuthorizationUrl,
  calculatePKCECodeChallenge,
  type Configuration,
  discovery,
  fetchUserInfo,
  randomNonce,
  randomPKCECodeVerifier,
  randomState,
} from 'openid-client';
import { Type } from 'typebox';
import { Value } from 'typebox/value';

export interface ProviderSettings {
  /** Its metadata are below it, at /.well-known/openid-configuration. */
  readonly issuer: string;
  readonly clientId: string;
  readonly clientSecret: string;
  /** Where browsers reach the screen, without a slash at its end. */
  readonly publicUrl: string;
}

export interface BegunSignIn {
  /** Where the browser goes. */
  readonly url: string;
  /** What the browser brings back with the provider's answer. */
  readonly begun: string;
}

export interface IdentityProvider {
  /** @throws when the provider does not answer */
  readonly begin: () => Promise<BegunSignIn>;
  /** The verified address; null when there is none. @throws for an answer that does not belong to `begun` */
  readonly finish: (search: string, begun: string) => Promise<string | null>;
}

export const PROVIDER_RETURN = '/sign-in/provider/return';

const Begun = Type.Object({ verifier: Type.String(), state: Type.String(), nonce: Type.String() });
const ANSWER_SECONDS = 10;

const isLoopback = (url: string): boolean =>
  ['localhost', '127.0.0.1', '[::1]'].includes(new URL(url).hostname);

const readBegun = (text: string) => {
  const value: unknown = JSON.parse(Buffer.from(text, 'base64url').toString());
  if (!Value.Check(Begun, value)) throw new Error('no sign-in was begun in this browser');
  return value;
};

export function identityProvider(settings: ProviderSettings): IdentityProvider {
  const { issuer, clientId, clientSecret, publicUrl } = settings;
  const returnUrl = `${publicUrl}${PROVIDER_RETURN}`;
  let found: Promise<Configuration> | null = null;
  const configuration = (): Promise<Configuration> => {
    found ??= discovery(new URL(issuer), clientId, clientSecret, undefined, {
      timeout: ANSWER_SECONDS,
      // Without TLS only on this machine.
      ...(issuer.startsWith('http:') && isLoopback(issuer) && { execute: [allowInsecureRequests] }),
    }).catch((error: unknown) => {
      found = null;
      throw error;
    });
    return found;
  };
  return {
    begin: async () => {
      const [verifier, state, nonce] = [randomPKCECodeVerifier(), randomState(), randomNonce()];
      const url = buildAuthorizationUrl(await configuration(), {
        redirect_uri: returnUrl,
        scope: 'openid email',
        code_challenge: await calculatePKCECodeChallenge(verifier),
        code_challenge_method: 'S256',
        state,
        nonce,
      });
      const begun = Buffer.from(JSON.stringify({ verifier, state, nonce })).toString('base64url');
      return { url: url.href, begun };
    },
    finish: async (search, begun) => {
      const { verifier, state, nonce } = readBegun(begun);
      const config = await configuration();
      const tokens = await authorizationCodeGrant(config, new URL(`${returnUrl}${search}`), {
        pkceCodeVerifier: verifier,
        expectedState: state,
        expectedNonce: nonce,
        idTokenExpected: true,
      });
      const subject = tokens.claims()?.sub;
      if (subject === undefined) throw new Error('the answer names nobody');
      const { email, email_verified } = await fetchUserInfo(config, tokens.access_token, subject);
      // An address that its owner typed and nobody checked may be another person's.
      return email !== undefined && email_verified === true ? email : null;
    },
  };
}

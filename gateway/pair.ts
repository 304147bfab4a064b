// `waxwarden gateway pair ADDRESS CODE FILE`: exchanges the code of the screens for an account at the lab's broker and
// writes site, gateway, broker and sign-in into the settings file. What else is in the file stays.

import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { request as requestPlain } from 'node:http';
import { request as requestSecure } from 'node:https';
import { dirname, join, resolve } from 'node:path';
import { type Static, Type } from 'typebox';
import { Compile } from 'typebox/schema';
import { parseDocument } from 'yaml';

const PairingSchema = Type.Object({
  site: Type.String(),
  gateway: Type.String(),
  user: Type.String(),
  password: Type.String(),
  host: Type.String(),
  port: Type.Integer(),
  tls: Type.Boolean(),
});
type Pairing = Static<typeof PairingSchema>;
const schema = Compile(PairingSchema);

const ANSWER_MILLIS = 15_000;

function post(url: URL, body: string, authority: Buffer | null): Promise<string> {
  return new Promise((answered, refused) => {
    const request = (url.protocol === 'https:' ? requestSecure : requestPlain)(
      url,
      {
        method: 'POST',
        headers: { 'content-type': 'application/json', 'content-length': Buffer.byteLength(body) },
        timeout: ANSWER_MILLIS,
        ...(authority !== null && { ca: authority }),
      },
      (response) => {
        const chunks: Buffer[] = [];
        response.on('data', (chunk: Buffer) => chunks.push(chunk));
        response.on('error', refused);
        response.on('end', () => answered(Buffer.concat(chunks).toString()));
      },
    );
    request.on('timeout', () => request.destroy(new Error('no answer')));
    request.on('error', refused);
    request.end(body);
  });
}

/**
 * @param address of the lab's screens, such as `http://192.168.1.10:8460`
 * @param authority certificate that the lab's own is checked against, where it is not a public one
 * @throws Error with the lab's answer when it refuses the code
 */
async function exchangeCode(address: string, code: string, authority: Buffer | null): Promise<Pairing> {
  const answer: unknown = JSON.parse(
    await post(new URL('/api/pair', address), JSON.stringify({ code }), authority),
  );
  if (schema.Check(answer)) return answer;
  const { detail } = Object(answer) as { readonly detail?: unknown };
  throw new Error(typeof detail === 'string' ? detail : 'this is not the address of a lab');
}

/**
 * The text of the settings file with the account in it. Without a text it reads one-wire probes, which need no more
 * settings.
 */
function mergeSettings(
  before: string | null,
  { site, gateway, user, host, port, tls }: Pairing,
  files: { readonly password: string; readonly buffer: string; readonly authority: string | null },
): string {
  const document = parseDocument(before ?? 'one_wire: {}\n');
  if (document.errors[0] !== undefined) throw document.errors[0];
  const scheme = tls ? 'mqtts' : 'mqtt';
  document.set('site', site);
  document.set('gateway', gateway);
  document.setIn(['broker', 'url'], `${scheme}://${host.includes(':') ? `[${host}]` : host}:${port}`);
  document.setIn(['broker', 'user'], user);
  document.setIn(['broker', 'password_file'], files.password);
  if (tls && files.authority !== null) document.setIn(['broker', 'authority_file'], files.authority);
  if (!document.has('buffer_file')) document.set('buffer_file', files.buffer);
  return document.toString();
}

/** Writes the settings and, for its owner alone, the password beside them; returns the id of the gateway. */
export async function pairGateway(
  address: string,
  code: string,
  file: string,
  authorityFile: string | null,
): Promise<string> {
  const path = resolve(file);
  const before = existsSync(path) ? readFileSync(path, 'utf8') : null;
  // A file that cannot be read on must not use the code up.
  if (before !== null) mergeSettings(before, NOBODY, { password: '', buffer: '', authority: null });
  const authority = authorityFile === null ? null : readFileSync(authorityFile);
  const pairing = await exchangeCode(address, code, authority);
  const files = {
    password: join(dirname(path), `${pairing.gateway}.password`),
    buffer: join(dirname(path), `${pairing.gateway}.db`),
    authority: authorityFile === null ? null : resolve(authorityFile),
  };
  writeFileSync(files.password, `${pairing.password}\n`, { mode: 0o600 });
  writeFileSync(path, mergeSettings(before, pairing, files));
  return pairing.gateway;
}

const NOBODY: Pairing = { site: '', gateway: '', user: '', password: '', host: '', port: 0, tls: false };

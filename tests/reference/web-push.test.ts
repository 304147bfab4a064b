// RFC 8291, appendix A: the worked example of the encryption of a push.

import { describe, expect, it } from 'vitest';
import { decryptPush } from '../push-decryption.ts';

const bytes = (text: string): Buffer => Buffer.from(text, 'base64url');
const KEYS = {
  privateKey: bytes('q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94'),
  publicKey: bytes('BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4'),
  auth: bytes('BTBZMqHH6r4Tts7J_aSIgg'),
};
const BODY = bytes(
  'DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A_yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN',
);

describe('the decryption that the tests of pushes rely on', () => {
  it("decrypts the standard's example with the standard's intermediate values", () => {
    expect(BODY).toHaveLength(144);
    expect(decryptPush(BODY, KEYS)).toEqual({
      text: 'When I grow up, I want to be a watermelon',
      contentKey: 'oIhVW04MRdy2XN9CiKLxTg',
      nonce: '4h_95klXJ5E_qnoN',
    });
  });

  it('refuses the example when one bit of it is changed', () => {
    const changed = Buffer.from(BODY);
    changed[100] = (changed[100] ?? 0) ^ 1;
    expect(() => decryptPush(changed, KEYS)).toThrow();
  });
});

// Passwords that are tried first, in lower case; trailing digits and marks are cut before the comparison. Written
// from general knowledge of what people choose, not copied from a leaked list.

export const COMMON_PASSWORDS: ReadonlySet<string> = new Set(
  `password passwort passw0rd kennwort geheim secret letmein welcome willkommen hallo hello qwerty qwertz
   qwertyuiop qwertzuiop asdfghjkl asdfasdf yxcvbnm zxcvbnm 12345678 123456789 1234567890 0123456789 87654321
   987654321 11111111 00000000 abcdefgh abcd1234 abc12345 1q2w3e4r 1qaz2wsx q1w2e3r4 iloveyou ichliebedich
   sunshine princess football fussball baseball superman batman dragon monkey master shadow michael jennifer
   admin administrator manager techniker technician default changeme changeit test testtest login guest gast
   sommer winter fruehling herbst summer spring autumn monday montag computer internet trustno1 starwars
   whatever schatz schatzi hallohallo dental dentallab zahntechnik zahnlabor labor laboratory waxwarden wachs
   waxwax melting ceramics krone crowns passpass startrek blink182 aaaaaaaa zzzzzzzz`.split(/\s+/),
);

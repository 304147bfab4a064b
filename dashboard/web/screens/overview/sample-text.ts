// Bytes that may be anything, shown safely: text where it is text, two hex digits a byte where it is not. Pure.

const SHOWN_BYTES = 160;

export const sampleText = (base64: string): string => {
  const bytes = Uint8Array.from(atob(base64), (character) => character.charCodeAt(0)).slice(0, SHOWN_BYTES);
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    // Control characters would be drawn as nothing and hide what came.
    if (!/\p{Cc}/u.test(text.replace(/[\r\n\t]/g, ''))) return text;
  } catch {
    // Not text.
  }
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join(' ');
};

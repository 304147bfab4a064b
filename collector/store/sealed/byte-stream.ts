// Bytes written one after the other and read back in the same order: whole numbers in as many bytes as they need
// (seven bits a byte, low bits first), doubles, and runs of bytes.

const FIRST_CAPACITY = 256;

/** A whole number of either sign as one of no sign, small where the number is near nought. */
export const zigzag = (value: number): number => (value < 0 ? -2 * value - 1 : 2 * value);
export const unzigzag = (value: number): number => (value % 2 === 0 ? value / 2 : -(value + 1) / 2);

export class ByteWriter {
  #bytes = new Uint8Array(FIRST_CAPACITY);
  #length = 0;

  get length(): number {
    return this.#length;
  }

  #reserve(count: number): void {
    if (this.#length + count <= this.#bytes.length) return;
    const larger = new Uint8Array(Math.max(this.#bytes.length * 2, this.#length + count));
    larger.set(this.#bytes);
    this.#bytes = larger;
  }

  /** From 0 to 2^53 - 1. */
  whole(value: number): void {
    this.#reserve(8);
    let rest = value;
    while (rest >= 128) {
      this.#bytes[this.#length++] = (rest % 128) + 128;
      rest = Math.floor(rest / 128);
    }
    this.#bytes[this.#length++] = rest;
  }

  double(value: number): void {
    this.#reserve(8);
    new DataView(this.#bytes.buffer).setFloat64(this.#length, value, true);
    this.#length += 8;
  }

  bytes(added: Uint8Array): void {
    this.#reserve(added.length);
    this.#bytes.set(added, this.#length);
    this.#length += added.length;
  }

  /** What was written so far. */
  done(): Uint8Array {
    return this.#bytes.subarray(0, this.#length);
  }
}

/** Reading past the end throws a RangeError: the bytes are not what was written. */
export class ByteReader {
  readonly #bytes: Uint8Array;
  #at = 0;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
  }

  get rest(): number {
    return this.#bytes.length - this.#at;
  }

  whole(): number {
    let [value, factor] = [0, 1];
    for (;;) {
      const byte = this.#bytes[this.#at++];
      if (byte === undefined) throw new RangeError('the bytes end within a number');
      value += (byte & 127) * factor;
      if (byte < 128) return value;
      factor *= 128;
    }
  }

  double(): number {
    const value = new DataView(this.#bytes.buffer, this.#bytes.byteOffset).getFloat64(this.#at, true);
    this.#at += 8;
    return value;
  }

  bytes(count: number): Uint8Array {
    if (count > this.rest) throw new RangeError('the bytes end within a run');
    this.#at += count;
    return this.#bytes.subarray(this.#at - count, this.#at);
  }
}

// SPDX-License-Identifier: Apache-2.0

const LETTERS = "abcdefghijklmnopqrstuvwxyz234567";
const BITS_A_LETTER = 5;
/** How many random bytes a chain's name is made of. */
export const CHAIN_NAME_BYTES = 16;

/** The name of a new chain: 128 random bits as 26 letters and digits of lower-case base32. */
export function chainName(random: Uint8Array): string {
  if (random.length !== CHAIN_NAME_BYTES) {
    throw new RangeError(`A chain's name is made of ${CHAIN_NAME_BYTES} bytes; ${random.length} were given.`);
  }
  let name = "";
  let waiting = 0;
  let bits = 0;
  for (const byte of random) {
    waiting = (waiting << 8) | byte;
    bits += 8;
    while (bits >= BITS_A_LETTER) {
      bits -= BITS_A_LETTER;
      name += LETTERS.charAt((waiting >> bits) & 31);
    }
    waiting &= 31;
  }
  return name + LETTERS.charAt((waiting << (BITS_A_LETTER - bits)) & 31);
}

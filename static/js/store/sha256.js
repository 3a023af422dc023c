/**
 * SHA-256 (FIPS 180-4) of bytes. The browser's own is missing where the shop is reached without
 * HTTPS, and a hash made once is all that names a photo.
 */

/** The first prime numbers, as many as are wanted. */
function primes(wanted) {
  const found = [];
  for (let number = 2; found.length < wanted; number += 1) {
    if (found.every((prime) => number % prime)) found.push(number);
  }
  return found;
}

// By the standard, the first 32 bits of the fractional parts of the primes' roots; none is so near
// to a whole number that another engine's last digit would matter.
const fraction = (root) => Math.floor((root % 1) * 2 ** 32);
const ROUNDS = Uint32Array.from(primes(64), (prime) => fraction(Math.cbrt(prime)));
const START = primes(8).map((prime) => fraction(Math.sqrt(prime)));

function turned(word, by) {
  return (word >>> by) | (word << (32 - by));
}

/** The bytes, a one bit, zeros, and their length in bits: whole blocks of 64 bytes. */
function padded(bytes) {
  const whole = new Uint8Array(Math.ceil((bytes.length + 9) / 64) * 64);
  whole.set(bytes);
  whole[bytes.length] = 0x80;
  const view = new DataView(whole.buffer);
  view.setUint32(whole.length - 8, Math.floor(bytes.length / 0x20000000));
  view.setUint32(whole.length - 4, (bytes.length << 3) >>> 0);
  return view;
}

function spread(view, at, words) {
  for (let i = 0; i < 16; i += 1) words[i] = view.getUint32(at + 4 * i);
  for (let i = 16; i < 64; i += 1) {
    const [near, far] = [words[i - 15], words[i - 2]];
    const small = turned(near, 7) ^ turned(near, 18) ^ (near >>> 3);
    const large = turned(far, 17) ^ turned(far, 19) ^ (far >>> 10);
    words[i] = words[i - 16] + small + words[i - 7] + large;
  }
}

function stir(state, words) {
  let [a, b, c, d, e, f, g, last] = state;
  for (let i = 0; i < 64; i += 1) {
    const up = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25);
    const first = (last + up + ((e & f) ^ (~e & g)) + ROUNDS[i] + words[i]) | 0;
    const down = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22);
    const second = (down + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [a, b, c, d, e, f, g, last] = [(first + second) | 0, a, b, c, (d + first) | 0, e, f, g];
  }
  [a, b, c, d, e, f, g, last].forEach((word, i) => {
    state[i] = (state[i] + word) | 0;
  });
}

/** The hash in 64 hex digits. */
export function sha256(bytes) {
  const view = padded(bytes);
  const state = Int32Array.from(START);
  const words = new Uint32Array(64);
  for (let at = 0; at < view.byteLength; at += 64) {
    spread(view, at, words);
    stir(state, words);
  }
  return Array.from(state, (word) => (word >>> 0).toString(16).padStart(8, '0')).join('');
}

/**
 * SHA-256 (FIPS 180-4) of bytes. The browser's own is missing where the shop is reached without
 * HTTPS, and a hash made once is all that names a photo.
 */

const ROUNDS = Uint32Array.of(
  0x428a2f98,
  0x71374491,
  0xb5c0fbcf,
  0xe9b5dba5,
  0x3956c25b,
  0x59f111f1,
  0x923f82a4,
  0xab1c5ed5,
  0xd807aa98,
  0x12835b01,
  0x243185be,
  0x550c7dc3,
  0x72be5d74,
  0x80deb1fe,
  0x9bdc06a7,
  0xc19bf174,
  0xe49b69c1,
  0xefbe4786,
  0x0fc19dc6,
  0x240ca1cc,
  0x2de92c6f,
  0x4a7484aa,
  0x5cb0a9dc,
  0x76f988da,
  0x983e5152,
  0xa831c66d,
  0xb00327c8,
  0xbf597fc7,
  0xc6e00bf3,
  0xd5a79147,
  0x06ca6351,
  0x14292967,
  0x27b70a85,
  0x2e1b2138,
  0x4d2c6dfc,
  0x53380d13,
  0x650a7354,
  0x766a0abb,
  0x81c2c92e,
  0x92722c85,
  0xa2bfe8a1,
  0xa81a664b,
  0xc24b8b70,
  0xc76c51a3,
  0xd192e819,
  0xd6990624,
  0xf40e3585,
  0x106aa070,
  0x19a4c116,
  0x1e376c08,
  0x2748774c,
  0x34b0bcb5,
  0x391c0cb3,
  0x4ed8aa4a,
  0x5b9cca4f,
  0x682e6ff3,
  0x748f82ee,
  0x78a5636f,
  0x84c87814,
  0x8cc70208,
  0x90befffa,
  0xa4506ceb,
  0xbef9a3f7,
  0xc67178f2,
);
const START = [
  0x6a09e667,
  0xbb67ae85,
  0x3c6ef372,
  0xa54ff53a,
  0x510e527f,
  0x9b05688c,
  0x1f83d9ab,
  0x5be0cd19,
];

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

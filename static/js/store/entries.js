/** Making entries: what the phone writes down before anything else may happen to it. */

import { sha256 } from './sha256.js';

/** The build of the app that this module was served under. */
export const BUILD = /\/shell\/([^/]+)\//.exec(import.meta.url)?.[1] ?? 'unknown';

function hex(bytes) {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** A random version 4 UUID as text; throws when the browser has no source of randomness. */
export function uuid() {
  const source = globalThis.crypto;
  if (source?.randomUUID) return source.randomUUID();
  // randomUUID is missing outside a secure context; getRandomValues is not.
  if (!source?.getRandomValues) {
    throw new Error('This browser cannot create IDs, so nothing can be saved.');
  }
  const bytes = source.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  return hex(bytes).replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-');
}

/**
 * The id of the vehicle that a blank tag becomes, from its code alone: a version 8 UUID (RFC 9562)
 * made of a hash, so that phones that scan the tag without hearing of each other make one vehicle.
 */
export function vehicleOfTag(code) {
  const digits = sha256(new TextEncoder().encode(`axlewright tag ${code}`));
  const variant = '89ab'[parseInt(digits[16], 16) % 4];
  return [
    digits.slice(0, 8),
    digits.slice(8, 12),
    `8${digits.slice(13, 16)}`,
    variant + digits.slice(17, 20),
    digits.slice(20, 32),
  ].join('-');
}

function two(number) {
  return String(Math.trunc(number)).padStart(2, '0');
}

/** The phone's clock as ISO 8601 text with milliseconds and its own UTC offset. */
export function madeAt(date = new Date()) {
  const east = -date.getTimezoneOffset();
  const local = new Date(date.getTime() + east * 60000).toISOString().slice(0, -1);
  const size = Math.abs(east);
  return `${local}${east < 0 ? '-' : '+'}${two(size / 60)}:${two(size % 60)}`;
}

/** An entry in wire form without its `local_no`, which the store allots as it keeps the entry. */
export function makeEntry(
  { kind, vehicle = null, job = null, round = null, body, typed = null },
  { phone, build },
) {
  return {
    v: 1,
    id: uuid(),
    phone,
    kind,
    vehicle,
    job,
    round,
    body,
    typed,
    made_at: madeAt(),
    build,
  };
}

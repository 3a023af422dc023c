/** Single fields that keep what they are given, or say beside themselves what is wrong. */

import { angles, lengths } from '../../reckon.js';
import { TypedField } from './asked.js';

function field(label, shown, { read, ask, onKeep }) {
  const keep = async () => {
    const found = one.take();
    if (found) await onKeep(found.value, one.text, found.confirmed);
  };
  const one = new TypedField({ label, shown, read, ask, again: keep, more: { onchange: keep } });
  return one.element;
}

/**
 * A length in the unit in use; `onKeep(mm, typed, confirmed)` gets what was read, `ask(mm)` finds
 * what is to be asked about it.
 */
export function lengthField(label, mm, unit, { ask, onKeep }) {
  const shown = mm === null || mm === undefined ? '' : lengths.show_length(mm, unit);
  const read = (text) => lengths.parse_length(text.replace('\u2248', ''), unit);
  return field(label, shown, { read, ask: (found) => ask(found.value), onKeep });
}

/** An angle in degrees, likewise. */
export function angleField(label, degrees, { ask, onKeep }) {
  const shown = String(degrees ?? '');
  return field(label, shown, {
    read: angles.parse_angle,
    ask: (found) => ask(found.value),
    onKeep,
  });
}

/** Single fields that keep what they are given, or say beside themselves what is wrong. */

import { h } from '../../dom.js';
import { lengths, typed_answers as typedAnswers } from '../../reckon.js';

let count = 0;

function field(label, shown, read, onKeep) {
  const id = `field-${++count}`;
  const fault = h('p', { class: 'fault', id: `${id}-fault`, role: 'alert' });
  const input = h('input', {
    id,
    value: shown,
    autocomplete: 'off',
    'aria-describedby': `${id}-fault`,
    onchange: async () => {
      const found = read(input.value);
      input.toggleAttribute('aria-invalid', !found.ok);
      fault.textContent = found.ok ? '' : found.says ?? typedAnswers.says_with_choices(found);
      if (found.ok) await onKeep(found.value, input.value.trim());
    },
  });
  return h('div', { class: 'field' }, h('label', { for: id }, label), input, fault);
}

/** A length in the unit in use; `onKeep(mm, typed)` gets what was read. */
export function lengthField(label, mm, unit, onKeep) {
  const shown = mm === null || mm === undefined ? '' : lengths.show_length(mm, unit);
  return field(
    label,
    shown,
    (text) => lengths.parse_length(text.replace('\u2248', ''), unit),
    onKeep,
  );
}

function readNumber(text) {
  const value = Number(text.trim().replace(',', '.').replace(/°$/, ''));
  if (text.trim() && Number.isFinite(value) && value >= 0) return { ok: true, value };
  return { ok: false, says: 'Enter it as a number, such as 0.5.' };
}

/** A number of zero or more. */
export function numberField(label, value, onKeep) {
  return field(label, value ?? '', readNumber, onKeep);
}

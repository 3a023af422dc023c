/** A name of one's own, for a joint, a part or a fastener that the list does not have. */

import { h } from '../../dom.js';
import { longest } from '../../store/contract.js';

/** A folded form with one field or more; `onName` gets what was written in each. */
export function ownName(summary, labels, onName) {
  const fault = h('p', { class: 'fault', role: 'alert' });
  const maxlength = longest('reading.play', 'joint');
  const inputs = labels.map(() => h('input', { autocomplete: 'off', maxlength }));
  const submit = (event) => {
    event.preventDefault();
    const names = inputs.map((input) => input.value.trim().toLowerCase());
    const empty = names.findIndex((name) => !name);
    if (empty < 0) return onName(...names);
    fault.textContent = 'Enter a name, such as spring clamp.';
    return inputs[empty].focus();
  };
  return h(
    'details',
    { class: 'box own-name' },
    h('summary', {}, summary),
    h(
      'form',
      { class: 'settings-body', onsubmit: submit },
      inputs.map((input, index) => h('label', { class: 'field' }, labels[index], input)),
      h('div', { class: 'field' }, fault),
      h('button', { class: 'main' }, 'Continue'),
    ),
  );
}

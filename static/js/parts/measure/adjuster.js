/** The adjuster of a bar: which ends are threaded, and how far a turn moves them. */

import { adjuster_words as adjusterWords } from '../../reckon.js';
import { h } from '../../dom.js';

const INCH = 25.4;
const THREADS = adjusterWords.THREADS;
function kindPicks(chosen) {
  return h(
    'fieldset',
    {},
    h('legend', {}, 'Adjuster'),
    h(
      'div',
      { class: 'picks' },
      Object.entries(adjusterWords.ADJUSTER_KINDS).map(([value, text]) =>
        h(
          'label',
          { class: 'pick' },
          h('input', {
            type: 'radio',
            name: 'kind',
            value,
            checked: value === chosen,
            required: true,
          }),
          text,
        )
      ),
    ),
  );
}

function threadSelect(pitch) {
  const at = THREADS.findIndex((each) => Math.abs(each.pitch - pitch) < 1e-3);
  return h(
    'select',
    { name: 'thread' },
    THREADS.map((each, index) =>
      h(
        'option',
        { value: String(index), selected: index === at },
        `${each.name} (${each.pitch.toFixed(2)} mm per turn)`,
      )
    ),
    h('option', { value: 'other', selected: Boolean(pitch) && at < 0 }, 'another pitch'),
  );
}

function readPitch(form) {
  const thread = form.elements.thread.value;
  return thread === 'other'
    ? Number(form.elements.pitch.value.replace(',', '.'))
    : THREADS[Number(thread)].pitch;
}

/** The form of the adjuster; `onKeep` gets {kind, pitch, step}. */
export function adjusterForm(adjuster, onKeep) {
  const { kind = 'one_end', pitch = INCH / 18 } = adjuster ?? {};
  const fault = h('p', { class: 'fault', role: 'alert' });
  const submit = (event) => {
    event.preventDefault();
    const form = event.target;
    const chosen = form.elements.kind.value;
    if (chosen === 'fixed') return onKeep({ kind: chosen, pitch: null, step: null });
    const found = readPitch(form);
    if (!(found > 0 && found < 20)) {
      fault.textContent = 'Enter the pitch in mm per turn, such as 1.5.';
      return undefined;
    }
    return onKeep({ kind: chosen, pitch: found, step: chosen === 'both_ends' ? 0 : 0.5 });
  };
  const select = threadSelect(pitch);
  const own = h(
    'label',
    { class: 'field' },
    'Pitch, mm per turn',
    h('input', {
      name: 'pitch',
      inputmode: 'decimal',
      autocomplete: 'off',
      value: select.value === 'other' ? String(pitch) : '',
    }),
    fault,
  );
  const showOwn = () => {
    own.hidden = select.value !== 'other';
  };
  select.addEventListener('change', showOwn);
  showOwn();
  return h(
    'form',
    { class: 'adjuster', onsubmit: submit },
    kindPicks(kind),
    h('label', { class: 'field' }, 'Thread', select),
    own,
    h('button', { class: 'main' }, 'Save adjuster'),
  );
}

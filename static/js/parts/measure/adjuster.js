/** The adjuster of a bar: which ends are threaded, and how far a turn moves them. */

import { h } from '../../dom.js';

const INCH = 25.4;
const KINDS = {
  one_end: 'One threaded end',
  both_ends: 'Opposite hands at both ends',
  fixed: 'Fixed length',
};
// Common threads of bar ends and sleeves, by name and pitch in mm.
/** @type {[string, number][]} */
const THREADS = [
  ['1/2-20', INCH / 20],
  ['5/8-18', INCH / 18],
  ['3/4-16', INCH / 16],
  ['7/8-14', INCH / 14],
  ['1-14', INCH / 14],
  ['1 1/4-12', INCH / 12],
  ['M14 \u00d7 1.5', 1.5],
  ['M16 \u00d7 1.5', 1.5],
  ['M18 \u00d7 1.5', 1.5],
  ['M20 \u00d7 1.5', 1.5],
  ['M22 \u00d7 1.5', 1.5],
  ['M24 \u00d7 2', 2],
  ['M27 \u00d7 2', 2],
  ['M30 \u00d7 2', 2],
];

function pitchWords(pitch) {
  const known = THREADS.find(([, each]) => Math.abs(each - pitch) < 1e-3);
  return known ? `pitch of ${known[0]}` : `pitch ${pitch.toFixed(3)} mm`;
}

/** The adjuster in words. */
export function adjusterWords({ kind, pitch }) {
  return kind === 'fixed' || !pitch
    ? KINDS[kind].toLowerCase()
    : `${KINDS[kind].toLowerCase()}, ${pitchWords(pitch)}`;
}

function kindPicks(chosen) {
  return h(
    'fieldset',
    {},
    h('legend', {}, 'Adjuster'),
    h(
      'div',
      { class: 'picks' },
      Object.entries(KINDS).map(([value, text]) =>
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
  const at = THREADS.findIndex(([, each]) => Math.abs(each - pitch) < 1e-3);
  return h(
    'select',
    { name: 'thread' },
    THREADS.map(([name, each], index) =>
      h(
        'option',
        { value: String(index), selected: index === at },
        `${name} (${each.toFixed(2)} mm per turn)`,
      )
    ),
    h('option', { value: 'other', selected: Boolean(pitch) && at < 0 }, 'another pitch'),
  );
}

function readPitch(form) {
  const thread = form.elements.thread.value;
  return thread === 'other'
    ? Number(form.elements.pitch.value.replace(',', '.'))
    : THREADS[Number(thread)][1];
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

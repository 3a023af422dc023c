/**
 * The adjuster of a bar: which ends are threaded, how far a turn moves them, and the thread left.
 */

import {
  adjuster as turning,
  adjuster_words as adjusterWords,
  length_grammar as grammar,
  lengths,
  typed_answers as typedAnswers,
} from '../../reckon.js';
import { draw as drawMeasure } from '../../figures/measure.js';
import { h } from '../../dom.js';

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

/** One field for the thread left at an end, which may stay empty. */
class ThreadLeft {
  constructor(name, left, unit, askBack) {
    this.left = left ?? null;
    this.shown = left === undefined ? '' : lengths.show_length(left, unit);
    this.unit = unit;
    this.askBack = askBack;
    this.fault = h('p', { class: 'fault', role: 'alert', id: `${name}-fault` });
    this.input = h('input', {
      name,
      autocomplete: 'off',
      value: this.shown,
      'aria-describedby': `${name}-fault`,
      oninput: () => this.#say(''),
    });
    this.label = h('span');
    this.element = h(
      'div',
      { class: 'field' },
      h('label', {}, this.label, this.input),
      this.fault,
    );
  }

  #say(says) {
    this.fault.textContent = says;
    this.input.toggleAttribute('aria-invalid', says !== '');
  }

  /** What was read, in mm; null where the field is empty, undefined where it must be put right. */
  read() {
    const text = this.input.value.trim();
    if (!text || this.element.hidden) return null;
    // What is shown rounded and was not touched stays what it is.
    if (text === this.shown) return this.left;
    const found = lengths.parse_length(text, this.unit);
    const asked = found.ok && this.askBack(found.value);
    const says = found.ok ? asked?.says : typedAnswers.says_with_choices(found);
    if (!says) return found.value;
    this.#say(says);
    this.input.focus();
    return undefined;
  }
}

/** The two fields of the thread left, named for the ends that are threaded, with the drawing. */
function threadFields(adjuster, unit, askBack) {
  const [frame, axle] = turning.thread_ends(adjuster);
  const fields = [
    new ThreadLeft('thread_frame', frame, unit, askBack),
    new ThreadLeft('thread_axle', axle, unit, askBack),
  ];
  const pictured = h('div');
  const element = h(
    'fieldset',
    {},
    h('legend', {}, 'Thread left (leave empty if not measured)'),
    h('p', { class: 'soft' }, adjusterWords.THREAD_ASK),
    pictured,
    fields.map((field) => field.element),
  );
  return {
    element,
    turnTo(kind) {
      const both = kind === 'both_ends';
      element.hidden = kind === 'fixed';
      fields[0].label.textContent = both ? 'At the frame end' : 'At the threaded end';
      fields[1].label.textContent = 'At the axle end';
      fields[1].element.hidden = !both;
      pictured.replaceChildren(drawMeasure({ step: 'thread', both }));
    },
    /** What goes with the adjuster: {thread_left} or {}; undefined where something is wrong. */
    read() {
      const ends = fields.map((field) => field.read());
      if (ends.includes(undefined)) return undefined;
      const known = ends.filter((end) => end !== null);
      if (known.length === 0) return {};
      return { thread_left: known.length === 2 ? known : known[0] };
    },
  };
}

/**
 * The form of the adjuster; `onKeep` gets {kind, pitch, step} and what thread is left.
 *
 * @param {any} adjuster
 * @param {{unit: string, askBack: (mm: number) => any, onKeep: (adjuster: any) => any}} options
 */
export function adjusterForm(adjuster, { unit, askBack, onKeep }) {
  const { kind = 'one_end', pitch = grammar.INCH / 18 } = adjuster ?? {};
  const fault = h('p', { class: 'fault', role: 'alert' });
  const thread = threadFields(adjuster ?? {}, unit, askBack);
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
    const left = thread.read();
    if (left === undefined) return undefined;
    return onKeep({ kind: chosen, pitch: found, step: chosen === 'both_ends' ? 0 : 0.5, ...left });
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
  thread.turnTo(kind);
  return h(
    'form',
    {
      class: 'adjuster',
      onsubmit: submit,
      onchange: ({ target }) => target.name === 'kind' && thread.turnTo(target.value),
    },
    kindPicks(kind),
    h('label', { class: 'field' }, 'Thread', select),
    own,
    thread.element,
    h('button', { class: 'main' }, 'Save adjuster'),
  );
}

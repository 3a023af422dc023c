/**
 * The adjuster of a bar: which ends are threaded, how far a turn moves them, and the thread left.
 */

import {
  adjuster as turning,
  adjuster_words as adjusterWords,
  lengths,
  pitches,
} from '../../reckon.js';
import { TypedField } from './asked.js';
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
    !pitch && h('option', { value: '' }, 'Choose the thread'),
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

/** One field for the thread left at an end, which may stay empty. */
function threadLeft(name, left, unit, askOf) {
  const shown = left === undefined ? '' : lengths.show_length(left, unit);
  return new TypedField({
    label: 'At the axle end',
    shown,
    empty: true,
    // What is shown rounded and was not touched stays what it is.
    read: (text) =>
      text === shown ? { ok: true, value: left, filed: true } : lengths.parse_length(text, unit),
    ask: ({ value, filed }) => filed ? null : askOf('thread_left', value),
    more: { name },
  });
}

/** The two fields of the thread left, named for the ends that are threaded, with the drawing. */
function threadFields(adjuster, unit, askOf) {
  const [frame, axle] = turning.thread_ends(adjuster);
  const fields = [
    threadLeft('thread_frame', frame, unit, askOf),
    threadLeft('thread_axle', axle, unit, askOf),
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
      element.hidden = !kind || kind === 'fixed';
      fields[0].element.firstChild.textContent = both ? 'At the frame end' : 'At the threaded end';
      fields[1].element.hidden = !both;
      pictured.replaceChildren(drawMeasure({ step: 'thread', both }));
    },
    /**
     * {left, confirmed}: what goes with the adjuster, {thread_left} or {}, and the questions that
     * were answered; undefined where something is wrong.
     */
    read() {
      const ends = fields.filter(({ element: { hidden } }) => !hidden).map((field) => field.take());
      if (ends.includes(undefined)) return undefined;
      const known = ends.filter((end) => end !== null);
      const left = known.map(({ value }) => value);
      return {
        left: left.length ? { thread_left: left.length === 2 ? left : left[0] } : {},
        confirmed: known.map(({ confirmed }) => confirmed),
      };
    },
  };
}

/**
 * The form of the adjuster, with what is known of it and nothing else chosen; `onKeep` gets {kind,
 * pitch, step} and what thread is left, and the questions that were answered; `askOf(field, mm)`
 * finds what is to be asked about a value.
 *
 * @param {any} adjuster
 * @param {{unit: string, askOf: (field: string, mm: number) => any,
 *   onKeep: (adjuster: any, confirmed?: any[]) => any}} options
 */
export function adjusterForm(adjuster, { unit, askOf, onKeep }) {
  const { kind = null, pitch = null } = adjuster ?? {};
  const kindFault = h('p', { class: 'fault', role: 'alert' });
  const threadFault = h('p', { class: 'fault', role: 'alert' });
  const thread = threadFields(adjuster ?? {}, unit, askOf);
  const submit = (event) => {
    event.preventDefault();
    const form = event.target;
    const chosen = form.elements.kind.value;
    kindFault.textContent = chosen ? '' : 'Choose which ends are threaded.';
    if (!chosen) return form.elements.kind[0].focus();
    if (chosen === 'fixed') return onKeep({ kind: chosen, pitch: null, step: null });
    threadFault.textContent = select.value ? '' : 'Choose the thread.';
    if (!select.value) return select.focus();
    const known = THREADS[select.value];
    const found = known ? { value: known.pitch, confirmed: null } : own.take();
    const ends = found && thread.read();
    if (!ends) return undefined;
    const step = chosen === 'both_ends' ? 0 : 0.5;
    return onKeep(
      { kind: chosen, pitch: found.value, step, ...ends.left },
      [found.confirmed, ...ends.confirmed],
    );
  };
  const select = threadSelect(pitch);
  const own = new TypedField({
    label: 'Pitch, mm per turn',
    read: (text) => pitches.parse_pitch(text, 'mm'),
    ask: ({ value }) => askOf('pitch', value),
    shown: select.value === 'other' ? String(pitch) : '',
    more: { name: 'pitch', inputmode: 'decimal' },
  });
  const showOwn = () => {
    own.element.hidden = select.value !== 'other';
  };
  select.addEventListener('change', showOwn);
  showOwn();
  thread.turnTo(kind);
  return h(
    'form',
    {
      class: 'adjuster',
      onsubmit: submit,
      onchange: ({ target }) => {
        if (target.name === 'kind') thread.turnTo(target.value);
        kindFault.textContent = threadFault.textContent = '';
      },
    },
    kindPicks(kind),
    h('div', { class: 'field' }, kindFault),
    h('label', { class: 'field' }, 'Thread', select),
    h('div', { class: 'field' }, threadFault),
    own.element,
    thread.element,
    h('button', { class: 'main' }, 'Save adjuster'),
  );
}

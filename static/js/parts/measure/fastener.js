/**
 * One fastener of the torque step: its figure, how it was turned, and in a recheck whether it
 * moved.
 */

import {
  entry_words as entryWords,
  joint_answers as jointAnswers,
  joint_reasons as jointReasons,
  joint_terms as asks,
  torque_figures as torqueFigures,
} from '../../reckon.js';
import { askOf, TypedField } from './asked.js';
import { confirming } from './step.js';
import { Draft } from './side_reader.js';
import { withDraft } from './form_draft.js';
import { drawBolt } from '../../figures/measure_joint.js';
import { h } from '../../dom.js';
import { longest } from '../../store/contract.js';
import { KeyPad } from './keypad.js';
import { replacingLike } from './same_entry.js';

const STEP = 'torque';
// What is said alike of most fasteners of a job.
const ALIKE = ['source', 'end', 'thread', 'tool'];
const KEYS = [
  { text: 'N\u00b7m', puts: ' N\u00b7m ', wide: true },
  { text: 'lb-ft', puts: ' lb-ft ' },
  { text: '\u00b1', puts: ' \u00b1 ', name: 'Plus or minus' },
  { text: 'then\u2009\u00b0', puts: ' then ', name: 'Then a further angle' },
];

/** Whether the round is one in which fasteners are only checked. */
export function isRecheck(round) {
  return round === 'recheck';
}

function saidFigure({ value, tolerance, then_deg: then, pair }, units) {
  return [
    asks.show_torque(value, units),
    tolerance && `\u00b1 ${asks.show_torque(tolerance, units)}`,
    then && `then ${then}\u00b0`,
    pair === 'differs' && 'the two printed figures do not agree',
  ].filter(Boolean).join(', ');
}

function bolted(title, { before, here }) {
  const known = here ?? before;
  return [
    h('h2', {}, title),
    known &&
    h(
      'p',
      { class: 'ask' },
      `${here ? 'Saved' : 'Carried over'}: ${entryWords.reading_value(known)}`,
    ),
  ];
}

async function padOf(app, job, round, key, options) {
  const draft = new Draft(app.store);
  const pad = new KeyPad({
    label: 'Torque',
    placeholder: 'as printed',
    more: job.units === 'in' ? [KEYS[1], KEYS[0], ...KEYS.slice(2)] : KEYS,
    read: (text) => torqueFigures.parse_torque(text, null),
    said: (found) => saidFigure(found, job.units),
    askBack: (found) => askOfFigure(job, round, found),
    onText: (text) => draft.note(key, text),
    ...options(draft),
  });
  pad.text = await app.store.draft(key) ?? '';
  return pad;
}

/** What is to be asked about a figure: its torque, its tolerance or its further angle; or null. */
function askOfFigure(job, round, { value, tolerance, then_deg: then, also }) {
  const alone = tolerance === null && then === null && also === null;
  const asked = Object.entries({ value, tolerance, then_deg: then }).filter(([, one]) =>
    one !== null
  ).map(([field, one]) => askOf(job, round, `torque[].${field}`, one)).find((one) => one);
  // A choice would take the place of all that is written.
  return asked ? { ...asked, choices: alone ? asked.choices : [] } : null;
}

/** The first half: the figure as its maker prints it. */
export async function figuring(app, job, round, row, given) {
  const key = `${job.job}|${round}|${STEP}|${row.fastener}`;
  const next = (draft) => async (figure, typed, confirmed) => {
    // Noted at once: a late draft must not come after the second half was saved.
    draft.cancel();
    await app.store.putDraft(key, typed).catch(() => {});
    await app.redraw({
      phase: 'how',
      given: { ...given, figure: { ...figure, typed }, key, confirmed },
    });
  };
  const pad = await padOf(
    app,
    job,
    round,
    key,
    (draft) => ({ keeps: [['Next: how it was turned', next(draft)]] }),
  );
  const moved = row.here?.moved &&
    [
      h('p', { class: 'notice' }, `${jointAnswers.capital(row.fastener)}: ${jointReasons.MOVED}`),
      h('button', {
        type: 'button',
        onclick: () => app.redraw({ phase: 'check' }),
      }, 'Change whether it moved'),
    ];
  const same = row.before?.figure && h('button', {
    type: 'button',
    onclick: () => {
      pad.text = row.before.figure;
    },
  }, `As carried over: ${row.before.figure}`);
  return {
    parts: [
      bolted(jointAnswers.capital(row.fastener), row),
      moved,
      h('p', { class: 'ask' }, asks.ASK_FIGURE),
      drawBolt(knownOf(row).end),
      same,
      pad.element,
    ],
    measuring: true,
    focus: pad.input,
    refresh: async () => {},
  };
}

function radios(name, legend, options, chosen, abreast = true) {
  return h(
    'fieldset',
    {},
    h('legend', {}, legend),
    h(
      'div',
      { class: abreast ? 'picks abreast' : 'picks' },
      Object.entries(options).map(([value, text]) =>
        h(
          'label',
          { class: 'pick' },
          h('input', { type: 'radio', name, value, checked: value === chosen }),
          jointAnswers.capital(text),
        )
      ),
    ),
  );
}

function written(name, label, value, suggestions = []) {
  const id = `known-${name}`;
  const fault = h('p', { class: 'fault', role: 'alert' });
  const input = h('input', {
    name,
    value: value ?? '',
    autocomplete: 'off',
    maxlength: longest('reading.torque', name),
    list: suggestions.length ? id : null,
  });
  return {
    input,
    fault,
    element: h(
      'div',
      { class: 'field' },
      h('label', {}, label, input),
      suggestions.length > 0 &&
        h('datalist', { id }, suggestions.map((each) => h('option', { value: each }))),
      fault,
    ),
  };
}

/** What was said of the fastener before this one, as most bolts of a job are turned alike. */
function lastOne(job, round, fastener) {
  return job.entries.findLast(({ kind, round: at, body }) =>
    kind === 'reading' && at === round && body.step === STEP && body.moved === undefined &&
    body.fastener !== fastener
  )?.body ?? null;
}

/** What this round or the vehicle's file has of how a fastener is turned. */
function knownOf({ here, before }) {
  return (here?.moved === undefined && here) || before || {};
}

/** A button that writes into the form what was said of the fastener before; null without one. */
function asBefore(last, form) {
  const put = () => {
    for (const name of ALIKE) {
      const field = form().elements[name];
      field.value = last[name] ?? '';
      // What hangs on a field hears of it as when it was touched.
      const one = field[0] ?? field;
      for (const kind of ['input', 'change']) one.dispatchEvent(new Event(kind, { bubbles: true }));
    }
  };
  const words = last &&
    [asks.ENDS[last.end], asks.THREADS[last.thread], last.source, last.tool].filter(Boolean);
  return last &&
    h(
      'button',
      { type: 'button', onclick: put },
      `As the ${last.fastener}: ${words.join(', ')}`,
    );
}

function sourcesOf(job) {
  const made = job.entries.map(({ body }) => (body.step === STEP ? body.source : null));
  return [
    ...new Set([...made, ...(job.record.torques?.[job.axle] ?? []).map(({ source }) => source)]),
  ].filter(Boolean);
}

/** The gate of rubber bushings: the second tick, and why it is asked for. */
function rubberTicks(rubber) {
  const box = (name, text, checked, onchange) =>
    h('label', { class: 'tick' }, h('input', { type: 'checkbox', name, checked, onchange }), text);
  const fault = h('p', { class: 'fault', role: 'alert' });
  const gate = h(
    'div',
    { class: 'settings-body gate', hidden: !rubber },
    h('p', {}, asks.RUBBER_WHY),
    box('on_springs', 'The weight is on the springs', false, () => {
      fault.textContent = '';
    }),
    fault,
  );
  return {
    fault,
    element: [
      box('rubber', 'Rubber bushing in this joint', rubber, (event) => {
        gate.hidden = !event.target.checked;
      }),
      gate,
    ],
  };
}

function readForm(form, { figure }, row, parts) {
  const { source, also, ticks } = parts;
  const data = new FormData(form);
  const pair = also.take();
  const rubber = data.has('rubber');
  source.fault.textContent = source.input.value.trim()
    ? ''
    : 'Say where the figure comes from: manual, page, part sheet.';
  ticks.fault.textContent = rubber && !data.has('on_springs')
    ? 'Not saved: check that the weight is on the springs, once it is.'
    : '';
  const first = [[source.fault, source.input], [ticks.fault, form.elements.on_springs]]
    .find(([fault]) => fault.textContent);
  if (first) first[1].focus();
  if (first || pair === undefined) return null;
  return {
    step: STEP,
    field: 'fastener',
    fastener: row.fastener,
    value: figure.value,
    figure: figure.typed,
    tolerance: figure.tolerance,
    then_angle: figure.then_deg || null,
    also: pair?.value ?? null,
    also_figure: pair ? also.text : null,
    source: source.input.value.trim(),
    end: data.get('end'),
    thread: data.get('thread'),
    tool: String(data.get('tool')).trim() || null,
    rubber,
    on_springs: rubber && data.has('on_springs'),
  };
}

/** The second half: source, end, thread, tool and the gate of rubber bushings. */
export async function describing(app, job, round, row, given) {
  const known = knownOf(row);
  const key = `${given.key}|how`;
  const parts = {
    source: written('source', 'Source of the maker\u2019s figure', known.source, sourcesOf(job)),
    also: new TypedField({
      label: 'Same figure printed in another unit (optional)',
      shown: given.figure.also_figure ?? row.here?.also_figure ?? '',
      read: (text) => torqueFigures.parse_torque(text, null),
      ask: ({ value }) => askOf(job, round, 'torque[].also', value),
      empty: true,
      more: { name: 'also', maxlength: longest('reading.torque', 'also_figure') },
    }),
    ticks: rubberTicks(known.rubber ?? false),
  };
  const tool = written('tool', 'Tool', known.tool);
  const submit = async (event) => {
    event.preventDefault();
    const body = readForm(event.target, given, row, parts);
    if (!body) return;
    const asked = [given.confirmed, parts.also.confirmed];
    await app.keep([
      replacingLike(job, round, 'reading', body, given.figure.typed),
      ...asked.flatMap((each) => confirming(job, round, each)),
    ], { dropDraft: [given.key, key] });
    await app.redraw({ bolt: null, phase: null, given: null });
  };
  const picture = h('div', {}, drawBolt(known.end));
  const form = await withDraft(
    app,
    key,
    h(
      'form',
      {
        class: 'torque-form',
        novalidate: true,
        onsubmit: submit,
        onchange: ({ target, currentTarget: { elements } }) => {
          if (target.name === 'end') picture.replaceChildren(drawBolt(elements.end.value));
        },
      },
      asBefore(lastOne(job, round, row.fastener), () => form),
      picture,
      radios('end', 'Which end was turned', asks.ENDS, known.end),
      radios('thread', 'Thread', asks.THREADS, known.thread),
      parts.source.element,
      parts.ticks.element,
      tool.element,
      parts.also.element,
      h(
        'div',
        { class: 'bottom row-buttons' },
        h('button', { type: 'button', onclick: () => app.redraw({ phase: null }) }, 'Figure'),
        h('button', { class: 'main' }, `Save ${row.fastener}`),
      ),
    ),
  );
  return {
    parts: [
      h('h2', {}, jointAnswers.capital(row.fastener)),
      h('p', { class: 'answer' }, h('em', {}, saidFigure(given.figure, job.units))),
      form,
    ],
    lit: true,
    refresh: async () => {},
  };
}

/** In a recheck: whether the fastener moved, and the value found. */
export async function checking(app, job, round, row) {
  const key = `${job.job}|${round}|${STEP}|${row.fastener}|again`;
  const keep = (moved, draft) => async ({ value }, typed, confirmed) => {
    draft.cancel();
    const body = {
      step: STEP,
      field: 'fastener',
      fastener: row.fastener,
      value,
      figure: typed,
      moved,
    };
    await app.keep([
      replacingLike(job, round, 'reading', body, typed),
      ...confirming(job, round, confirmed),
    ], { dropDraft: key });
    await app.redraw({ bolt: null, phase: null });
  };
  const pad = await padOf(
    app,
    job,
    round,
    key,
    (draft) => ({
      empty: true,
      placeholder: 'value found',
      keeps: [['It moved', keep(true, draft)], ['It did not move', keep(false, draft)]],
    }),
  );
  return {
    parts: [
      bolted(jointAnswers.capital(row.fastener), row),
      h('p', { class: 'ask' }, asks.ASK_CHECK),
      drawBolt(knownOf(row).end),
      pad.element,
    ],
    measuring: true,
    focus: pad.input,
    refresh: async () => {},
  };
}

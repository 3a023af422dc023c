/** Ride height: what the vehicle stands on, the five ticks, then the height at each side. */

import { cautionList, foldedCautions } from '../parts/answer/findings.js';
import { isOpen, nextButton, replacing, stepScreen } from '../parts/measure/step.js';
import { draw as drawMeasure } from '../figures/measure.js';
import { lean as drawLean } from '../figures/measure_lean.js';
import { centering, lean_words as leanWords, lengths, missing, steps, terms } from '../reckon.js';
import { h } from '../dom.js';
import { loadJob } from '../model.js';
import { nextSide, SideReader } from '../parts/measure/side_reader.js';

const STEP = 'heights';

function standingPicks(app, job, round) {
  const chosen = job.sheet(round).standing;
  const pick = (value) =>
    app.keep([replacing(job, round, 'pick', { step: STEP, field: 'standing', value })]);
  return h(
    'fieldset',
    {},
    h('legend', {}, 'The vehicle stands'),
    h(
      'div',
      { class: 'picks' },
      Object.entries(terms.STANDINGS).map(([value, text]) =>
        h(
          'label',
          { class: 'pick' },
          h('input', {
            type: 'radio',
            name: 'standing',
            value,
            checked: value === chosen,
            disabled: !isOpen(job),
            onchange: () => pick(value),
          }),
          text,
        )
      ),
    ),
  );
}

function ticks(app, job, round) {
  const { ready } = job.sheet(round);
  const tick = async (field, value) => {
    const fresh = await loadJob(app.store, job.job);
    await app.keep([replacing(fresh, round, 'tick', { field, value })]);
  };
  return h(
    'fieldset',
    {},
    h('legend', {}, 'Check what is true'),
    h(
      'div',
      { class: 'picks' },
      terms.TICKS.map((field) =>
        h(
          'label',
          { class: 'tick' },
          h('input', {
            type: 'checkbox',
            name: field,
            checked: ready[field],
            disabled: !isOpen(job),
            onchange: (event) => tick(field, event.target.checked),
          }),
          terms.TICK_WORDS[field],
        )
      ),
    ),
  );
}

/**
 * One touch for a stance and ticks that are as in the last round, with what it stands for; nothing
 * once any is said of this round.
 */
function asLastRound(app, job, round) {
  const sheet = job.sheet(round);
  const said = sheet.standing !== null || terms.TICKS.some((field) => sheet.ready[field]);
  const last = !said && isOpen(job) && job.readyBefore(round);
  if (!last) return null;
  const ticked = terms.TICKS.filter((field) => last.ready[field]);
  const entry = (kind, body) => replacing(job, round, kind, { ...body, as_last: true });
  const put = async () => {
    await app.keep([
      entry('pick', { step: STEP, field: 'standing', value: last.standing }),
      ...ticked.map((field) => entry('tick', { field, value: true })),
    ]);
    await app.redraw();
  };
  const words = [terms.STANDINGS[last.standing], ...ticked.map((field) => terms.TICK_WORDS[field])];
  return [
    h('button', { type: 'button', onclick: put }, 'All of these, as last round'),
    h('p', { class: 'ask' }, `${words.join('. ')}.`),
  ];
}

/** Whether both sides were read. */
function isRead(job, round) {
  const { heights } = job.sheet(round);
  return Boolean(heights?.left.length && heights.right.length);
}

/** Whether everything that a verdict needs before the readings was answered. */
function isReady(job, round) {
  const sheet = job.sheet(round);
  return sheet.standing !== null &&
    centering.ticks_asked(sheet).every((field) => sheet.ready[field]);
}

function readyParts(app, job, round) {
  return {
    parts: [
      cautionList(steps.CAUTIONS[STEP]),
      asLastRound(app, job, round),
      standingPicks(app, job, round),
      ticks(app, job, round),
      h(
        'div',
        { class: 'bottom row-buttons' },
        h('button', {
          type: 'button',
          class: 'main',
          onclick: () => app.redraw({ phase: isRead(job, round) ? 'done' : 'read' }),
        }, isRead(job, round) ? 'Heights' : 'Next: heights'),
      ),
    ],
    // The boxes show what was just touched; drawing them again would take the focus away.
    refresh: async () => {},
  };
}

async function readParts(app, job, round, side, replaces) {
  const reader = new SideReader(app, { job, round, step: STEP, replaces });
  await reader.turnTo(side ?? nextSide(reader.readings, 1) ?? 'left');
  return {
    parts: [
      h('p', { class: 'ask' }, steps.ask_heights(reader.side)),
      foldedCautions(steps.CAUTIONS[STEP]),
      reader.element,
      drawMeasure({ step: STEP, side: reader.side, flip: app.flip }),
      reader.pad.element,
    ],
    measuring: true,
    refresh: () => reader.refresh(),
    focus: reader.pad.input,
  };
}

/** How the frame stands over its axle, drawn with both heights; nothing until both were read. */
function leanBox(app, job, round) {
  const { lean } = job.findings(round);
  if (!lean) return null;
  const shown = (side) => lengths.show_length(lean[side], job.units);
  return h(
    'figure',
    { class: 'box lean' },
    h('p', { class: `word-${lean.state}` }, leanWords.lean_sentence(lean, job.units)),
    drawLean({
      left: shown('left'),
      right: shown('right'),
      higher: terms.side_of(lean.difference),
      known: lean.known ? terms.side_of(lean.known) : null,
      flip: app.flip,
    }),
  );
}

function doneParts(app, job, round) {
  const reader = new SideReader(app, { job, round, step: STEP });
  const sheet = job.sheet(round);
  const standing = terms.STANDINGS[sheet.standing];
  const lacks = missing.missing_heights(sheet);
  const checks = () => app.redraw({ phase: 'ready' });
  return {
    parts: [
      reader.element,
      leanBox(app, job, round),
      standing && h('p', { class: 'ask' }, `The vehicle stands ${standing}.`),
      lacks.length > 0 &&
      h(
        'section',
        { class: 'notice', role: 'status' },
        h('h2', {}, 'No centering verdict without these'),
        h('ul', {}, lacks.map((says) => h('li', {}, says))),
      ),
      h(
        'div',
        { class: 'bottom row-buttons' },
        h(
          'button',
          { type: 'button', class: lacks.length ? 'main' : null, onclick: checks },
          'Checks',
        ),
        nextButton(app, job, round, STEP, !lacks.length),
      ),
    ],
    refresh: () => reader.refresh(),
  };
}

function phaseOf(job, round) {
  if (isRead(job, round)) return 'done';
  return isReady(job, round) ? 'read' : 'ready';
}

/** The screen; `phase` is ready, read or done, and begins at what is not done yet. */
export async function show(app, { id, round, phase = null, side = null, replaces = null }) {
  const job = await loadJob(app.store, id);
  const now = phase ??
    (app.local.phase === undefined || phaseOf(job, round) === 'done'
      ? phaseOf(job, round)
      : 'read');
  const shown = isOpen(job) ? now : 'done';
  const view = await { ready: readyParts, read: readParts, done: doneParts }[shown](
    app,
    job,
    round,
    side,
    replaces,
  );
  return stepScreen(app, job, round, STEP, view);
}

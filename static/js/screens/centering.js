/**
 * Centering: at least two readings a side from one face, and the answer as the last one goes in.
 */

import { answerLine, cautionList, findingsView, foldedCautions } from '../parts/answer/findings.js';
import {
  confirming,
  isOpen,
  nextButton,
  replacing,
  standingEntry,
  stepScreen,
} from '../parts/measure/step.js';
import { askOf } from '../parts/measure/asked.js';
import { draw as drawMeasure } from '../figures/measure.js';
import { plumb as drawPlumb } from '../figures/measure_lean.js';
import { h } from '../dom.js';
import { holdAnswers } from '../parts/answer/hold.js';
import { angleField, lengthField } from '../parts/measure/fields.js';
import { loadJob } from '../model.js';
import { changeButton, movedBox, staleNotice } from '../parts/measure/changes.js';
import { nextSide, SideReader } from '../parts/measure/side_reader.js';
import { centering, steps, terms } from '../reckon.js';

const STEP = 'centering';

function picked(job, round, field, otherwise) {
  return standingEntry(job, round, 'pick', field, STEP)?.body.value ?? otherwise;
}

/** What is measured in this round: face, method and what goes with them. */
function set(job, round) {
  const { record } = job;
  return {
    face: picked(job, round, 'face', record.face ?? 'rotor'),
    method: picked(job, round, 'method', record.method ?? 'square_to_rail'),
  };
}

async function keepPick(app, id, round, field, value, typed = null, confirmed = null) {
  const job = await loadJob(app.store, id);
  await app.keep([
    replacing(job, round, 'pick', { step: STEP, field, value }, typed),
    ...confirming(job, round, confirmed),
  ]);
  await app.redraw({ settings: true });
}

/** How a typed setting is asked about and kept. */
function keeper(app, job, round, field) {
  return {
    ask: (value) =>
      askOf(job, round, `${STEP}.${field}`, value, [
        replacing(job, round, 'pick', { step: STEP, field, value }),
      ]),
    onKeep: (value, typed, confirmed) =>
      keepPick(app, job.job, round, field, value, typed, confirmed),
  };
}

function choice(app, job, round, field, options, chosen, allowed) {
  return h(
    'fieldset',
    {},
    h('legend', {}, field === 'face' ? 'Face' : 'Method'),
    h(
      'div',
      { class: 'picks' },
      Object.entries(options).map(([value, text]) =>
        h(
          'label',
          { class: 'pick' },
          h('input', {
            type: 'radio',
            name: field,
            value,
            checked: value === chosen,
            disabled: !isOpen(job) || (!allowed && value !== chosen),
            onchange: () => keepPick(app, job.job, round, field, value),
          }),
          text,
        )
      ),
    ),
  );
}

function plumbFields(app, job, round, part) {
  const keep = (field) => keeper(app, job, round, field);
  return [
    drawPlumb({ high_side: part.high_side, flip: app.flip }),
    h('p', { class: 'soft' }, steps.PLUMB_ASK),
    lengthField(
      "The rail's point above the floor",
      part.rail_point_height,
      job.units,
      keep('rail_point_height'),
    ),
    lengthField(
      "The face's point above the floor",
      part.face_point_height,
      job.units,
      keep('face_point_height'),
    ),
    angleField('Tilt of the floor, degrees', part.tilt_deg, keep('tilt_deg')),
    h(
      'fieldset',
      {},
      h('legend', {}, 'The floor is higher on the'),
      h(
        'div',
        { class: 'picks abreast' },
        ['left', 'right'].map((side) =>
          h(
            'label',
            { class: 'pick' },
            h('input', {
              type: 'radio',
              name: 'high_side',
              value: side,
              checked: part.high_side === side,
              onchange: () => keepPick(app, job.job, round, 'high_side', side),
            }),
            side,
          )
        ),
      ),
    ),
  ];
}

/** Face, method, spacers; a face stays while readings from it stand. */
function settings(app, job, round, { face, method }, open) {
  const taken = job.sheet(round).centering;
  const part = taken ?? {
    left_extra: picked(job, round, 'left_extra', 0),
    right_extra: picked(job, round, 'right_extra', 0),
    rail_point_height: picked(job, round, 'rail_point_height', null),
    face_point_height: picked(job, round, 'face_point_height', null),
    tilt_deg: picked(job, round, 'tilt_deg', null),
    high_side: picked(job, round, 'high_side', null),
  };
  const extra = (side) =>
    lengthField(
      `Spacer or thicker rotor, ${side}`,
      part[`${side}_extra`] || null,
      job.units,
      keeper(app, job, round, `${side}_extra`),
    );
  return h(
    'details',
    { class: 'box settings', open },
    h('summary', {}, steps.ask_centering(face, method)),
    h(
      'div',
      { class: 'settings-body' },
      taken && h('p', { class: 'soft' }, steps.face_refused(face)),
      choice(app, job, round, 'face', terms.FACES, face, !taken),
      choice(app, job, round, 'method', terms.METHODS, method, !taken),
      drawMeasure({ step: 'spacer' }),
      extra('left'),
      extra('right'),
      method === 'plumb_bob' && plumbFields(app, job, round, part),
    ),
  );
}

function isEnough(job, round) {
  const part = job.sheet(round).centering;
  return part && part.left.length >= centering.READINGS_A_SIDE &&
    part.right.length >= centering.READINGS_A_SIDE;
}

async function readParts(app, job, round, side, measured, open, replaces) {
  const foresee = (after) => (isEnough(after, round) ? answerLine(after.findings(round)) : null);
  const reader = new SideReader(app, {
    job,
    round,
    step: STEP,
    wanted: centering.READINGS_A_SIDE,
    extra: () => measured,
    foresee,
    replaces,
  });
  await reader.turnTo(side ?? nextSide(reader.readings, centering.READINGS_A_SIDE) ?? 'left');
  return {
    parts: [
      settings(app, job, round, measured, open),
      foldedCautions(steps.CAUTIONS[STEP]),
      reader.element,
      drawMeasure({ step: STEP, side: reader.side, ...measured, flip: app.flip }),
      reader.pad.element,
    ],
    measuring: true,
    refresh: () => reader.refresh(),
    focus: open ? null : reader.pad.input,
  };
}

function answerParts(app, job, round, _side, measured, open) {
  const reader = new SideReader(app, { job, round, step: STEP });
  const findings = job.findings(round);
  const shown = findingsView(job.sheet(round), findings, {
    record: job.record,
    flip: app.flip,
    onFlip: () => app.turn(),
  });
  return {
    parts: [
      staleNotice(job, round, STEP),
      h('div', { class: 'answers', 'aria-live': 'polite' }, shown[0]),
      holdAnswers(app, job, round),
      shown[1],
      movedBox(job, round),
      shown.slice(2),
      changeButton(app, job, round),
      reader.element,
      settings(app, job, round, measured, open),
      cautionList(steps.CAUTIONS[STEP]),
      h(
        'div',
        { class: 'bottom row-buttons' },
        isOpen(job) && h('button', {
          type: 'button',
          onclick: () => app.redraw({ phase: 'read' }),
        }, 'Measure again'),
        nextButton(app, job, round, STEP),
      ),
    ],
  };
}

/** The screen; `phase` is read or answer, and follows the readings unless set. */
export async function show(
  app,
  { id, round, phase = null, side = null, settings: open = false, replaces = null },
) {
  const job = await loadJob(app.store, id);
  const reading = isOpen(job) && (phase ?? (isEnough(job, round) ? 'answer' : 'read')) === 'read';
  const view = await (reading ? readParts : answerParts)(
    app,
    job,
    round,
    side,
    set(job, round),
    open,
    replaces,
  );
  return stepScreen(app, job, round, STEP, view);
}

/**
 * Play: joint by joint what moves, what it comes to at axle and steering wheel, and what repairs
 * it.
 */

import { cautionList, numbersBox } from '../parts/answer/findings.js';
import { isOpen, nextButton, stepScreen } from '../parts/measure/step.js';
import {
  entering,
  foundOf,
  oneJoint,
  readingOf,
  shownReading,
  STEP,
} from '../parts/measure/joint.js';
import { h, runs } from '../dom.js';
import {
  dial,
  joint_answers as jointAnswers,
  joint_terms as asks,
  number_rows as numberRows,
  steps,
} from '../reckon.js';
import { loadJob } from '../model.js';
import { ownName } from '../parts/measure/own_name.js';
import { staleNotice } from '../parts/measure/changes.js';

/** The joints of this round: the usual ones, then those of other names. */
function jointsOf(job, round, named) {
  const names = [
    ...(job.sheet(round).play ?? []).map(({ joint }) => joint),
    ...(named ? [named] : []),
  ];
  const own = [...new Set(names)].filter((name) =>
    !asks.JOINTS.some(({ joint }) => joint === name)
  );
  return [
    ...asks.JOINTS,
    ...own.map((joint) => ({ joint, of: 'steering', title: asks.joint_title(joint) })),
  ];
}

/** The joint after one that was not rocked yet, or null. */
function nextJoint(job, round, after) {
  const joints = jointsOf(job, round);
  const at = joints.findIndex(({ joint }) => joint === after);
  const rest = at < 0 || !isOpen(job) ? [] : joints.slice(at + 1);
  return rest.find(({ joint }) => !readingOf(job, round, joint, 'along')) ?? null;
}

function judged(found) {
  if (found?.along === null || !found) return h('span', { class: 'soft' }, found ? 'begun' : '');
  return h(
    'span',
    { class: found.state === 'recorded' ? 'soft' : `word-${found.state}` },
    found.state,
  );
}

function jointRow(app, job, round, { joint, title }) {
  const found = foundOf(job, round, joint);
  const moved = readingOf(job, round, joint, 'along');
  const oval = found?.oval > 0 ? `hole ${dial.show_fine(found.oval, job.units)} oval` : '';
  return h(
    'li',
    {},
    h(
      'button',
      {
        type: 'button',
        class: 'row',
        onclick: () => app.redraw({ joint, field: null, phase: null }),
      },
      h('b', {}, title),
      h('span', {}, moved ? shownReading(moved) : ''),
      found && [h('span', { class: 'soft' }, oval), judged(found)],
    ),
  );
}

function overview(app, job, round) {
  const found = job.findings(round).play;
  const own = (joint) => app.redraw({ joint, field: null, phase: null });
  const naming = ownName('Another joint', ['What the joint is called'], own);
  return {
    parts: [
      staleNotice(job, round, STEP),
      found && h('p', { class: 'answer' }, runs(jointAnswers.play_told(found, job.units))),
      found && numbersBox(numberRows.part_rows('play', found, job.units)),
      h(
        'ul',
        { class: 'rows' },
        jointsOf(job, round).map((each) => jointRow(app, job, round, each)),
      ),
      isOpen(job) && naming,
      cautionList(steps.CAUTIONS[STEP]),
      h('div', { class: 'bottom row-buttons' }, nextButton(app, job, round, STEP)),
    ],
    busy: () => naming.open,
  };
}

/**
 * The screen; `joint` is the one in hand, `field` what is being entered of it, `phase` joint to see
 * all of it.
 */
export async function show(app, { id, round, joint = null, field = null, phase = null }) {
  const job = await loadJob(app.store, id);
  const here = joint && jointsOf(job, round, joint).find((each) => each.joint === joint);
  const first = here && phase === null && isOpen(job) && !readingOf(job, round, joint, 'along')
    ? 'along'
    : null;
  const now = field ?? first;
  const view = !here
    ? overview(app, job, round)
    : now
    ? await entering(app, job, round, here, now)
    : await oneJoint(app, job, round, here, nextJoint(job, round, joint));
  const back = here ? () => app.redraw({ joint: null, field: null, phase: null }) : null;
  return stepScreen(app, job, round, STEP, view, back);
}

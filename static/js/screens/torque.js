/**
 * Torque: fastener by fastener the maker's figure and how it was turned, and when it is checked
 * again.
 */

import { cautionList } from '../parts/answer/findings.js';
import { checking, describing, figuring, isRecheck } from '../parts/measure/fastener.js';
import { isOpen, nextButton, stepScreen } from '../parts/measure/step.js';
import {
  entry_words as entryWords,
  fold,
  joint_answers as jointAnswers,
  joint_terms as asks,
  joints_of_round as jointsOfRound,
  steps,
} from '../reckon.js';
import { h, runs } from '../dom.js';
import { loadJob } from '../model.js';
import { ownName } from '../parts/measure/own_name.js';
import { recheckForm } from '../parts/measure/recheck.js';
import { staleNotice } from '../parts/measure/changes.js';

const STEP = 'torque';

/** The fasteners of this round with what is known of each: {fastener, here, before}. */
function rowsOf(job, round) {
  return jointsOfRound.fasteners(fold.standing(job.entries), round, job.record, job.axle);
}

function stateWords({ here, before }, round) {
  if (isRecheck(round) && before && here?.moved === undefined) {
    return here ? 'torqued again' : 'to check';
  }
  if (here?.moved !== undefined) return here.moved ? 'moved' : 'did not move';
  return here ? 'torqued' : before ? 'carried over' : '';
}

function foundOf(job, round, fastener) {
  return job.findings(round).torque?.fasteners.find((each) => each.fastener === fastener) ?? null;
}

function fastenerRow(app, job, round, row) {
  const shown = row.here?.value || !row.before ? row.here : row.before;
  const lacks = row.here && foundOf(job, round, row.fastener)?.why[0];
  const tone = row.here?.moved ? 'word-outside' : 'soft';
  return h(
    'li',
    {},
    h(
      'button',
      {
        type: 'button',
        class: 'row',
        disabled: !isOpen(job),
        onclick: () => app.redraw({ bolt: row.fastener, phase: null }),
      },
      h('b', {}, jointAnswers.capital(row.fastener)),
      h('span', { class: tone }, stateWords(row, round)),
      shown && h('span', { class: 'soft wide' }, entryWords.reading_value(shown)),
      lacks && h('span', { class: 'word-outside wide' }, jointAnswers.capital(lacks)),
    ),
  );
}

/** The button that goes on to the next fastener, once the first was seen to. */
function nextFastener(app, job, round) {
  const rows = rowsOf(job, round);
  const wanted = isRecheck(round) ? rows.filter(({ before }) => before) : rows;
  const next = wanted.some(({ here }) => here) && wanted.find(({ here }) => !here);
  return next && isOpen(job) &&
    h('button', {
      type: 'button',
      class: 'main',
      onclick: () => app.redraw({ bolt: next.fastener, phase: null }),
    }, `Next: ${next.fastener}`);
}

async function overview(app, job, round) {
  const found = job.findings(round).torque;
  const naming = ownName(
    'Another fastener',
    ['What the fastener is called'],
    (bolt) => app.redraw({ bolt, phase: null }),
  );
  const due = await recheckForm(app, job, round);
  const following = nextFastener(app, job, round);
  return {
    parts: [
      staleNotice(job, round, STEP),
      found && h('p', { class: 'answer' }, runs(jointAnswers.torque_told(found))),
      h(
        'ul',
        { class: 'rows' },
        rowsOf(job, round).map((row) => fastenerRow(app, job, round, row)),
      ),
      isOpen(job) && naming,
      due,
      h('p', { class: 'soft' }, asks.NEVER_DERIVED),
      cautionList(steps.CAUTIONS[STEP]),
      h(
        'div',
        { class: 'bottom row-buttons' },
        nextButton(app, job, round, STEP, !following),
        following,
      ),
    ],
    busy: () => naming.open || due.open,
  };
}

// In a recheck a fastener is checked; one that moved is torqued again.
function enteringOf(row, round, phase) {
  if (phase === 'how') return describing;
  const checks = isRecheck(round) && row.before && (phase === 'check' || row.here?.moved !== true);
  return checks ? checking : figuring;
}

/**
 * The screen; `bolt` is the fastener in hand, `phase` how once its figure is read or check, `given`
 * what was read.
 */
export async function show(app, { id, round, bolt = null, phase = null, given = null }) {
  const job = await loadJob(app.store, id);
  const row = bolt && isOpen(job) &&
    (rowsOf(job, round).find(({ fastener }) => fastener === bolt) ??
      { fastener: bolt, here: null, before: null });
  const view = row
    ? await enteringOf(row, round, phase)(app, job, round, row, given)
    : await overview(app, job, round);
  const back = row ? () => app.redraw({ bolt: null, phase: null, given: null }) : null;
  return stepScreen(app, job, round, STEP, view, back);
}

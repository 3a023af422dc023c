/** Clearance: pair by pair a grid of travel states and locks, one or two touches a cell. */

import { cautionList } from '../parts/answer/findings.js';
import {
  clearance as checks,
  entry_words as entryWords,
  joint_answers as jointAnswers,
  joint_reasons as jointReasons,
  joint_terms as asks,
  lengths,
  steps,
  usual_pairs as usualPairs,
} from '../reckon.js';
import { askOf } from '../parts/measure/asked.js';
import { confirming, isOpen, nextButton, stepScreen } from '../parts/measure/step.js';
import { Draft } from '../parts/measure/side_reader.js';
import { h, runs } from '../dom.js';
import { likeBefore, replacingLike } from '../parts/measure/same_entry.js';
import { loadJob } from '../model.js';
import { lockMark, stateMark } from '../figures/clearance_marks.js';
import { ownName } from '../parts/measure/own_name.js';
import { staleNotice } from '../parts/measure/changes.js';
import { tapeFor, TapePad } from '../parts/measure/tape_pad.js';

const STEP = 'clearance';
const STATES = Object.keys(asks.STATE_NAMES);
const LOCKS = Object.keys(asks.LOCK_NAMES);
const PLACES = STATES.flatMap((state) => LOCKS.map((lock) => ({ state, lock })));
// The sheet's names of travel states, where the log has another.
const SHEET_STATES = { crossed: 'crossed_up' };
const SHORT = { touches: 'touches', 'witness mark': 'mark' };

function sameParts(one, other) {
  return [...one].sort().join('|') === [...other].sort().join('|');
}

/** The pairs of this round: those that its changes ask for, the usual ones, then own names. */
function pairsOf(job, round, named) {
  const own = (job.sheet(round).clearance ?? []).map(({ between }) => between);
  const usual = usualPairs.pairs_to_show(job.entries, job.axle);
  return [...usual, ...own, ...(named ? [named] : [])].filter((pair, index, all) =>
    all.findIndex((each) => sameParts(each, pair)) === index
  );
}

function foundOf(job, round, pair) {
  return job.findings(round).clearance?.pairs.find(({ between }) => sameParts(between, pair)) ??
    null;
}

/** Whether two parts were said never to come near each other. */
function isApart(job, pair) {
  return usualPairs.is_apart(job.entries, pair);
}

function leastWords(found, units) {
  if (found.least === null) return '';
  if (found.state === 'contact') {
    return h(
      'span',
      { class: 'word-outside' },
      found.gap === 'witness_mark' ? 'witness mark' : 'contact',
    );
  }
  return lengths.show_amount(found.least, units);
}

function pairRow(app, job, round, pair) {
  const found = foundOf(job, round, pair);
  const where = found?.at ? asks.where_words(found.at) : '';
  return h(
    'li',
    {},
    h(
      'button',
      {
        type: 'button',
        class: 'row',
        onclick: () => app.redraw({ phase: 'pair', pair }),
      },
      h('b', {}, jointAnswers.capital(asks.pair_words(pair))),
      found
        ? h('span', {}, leastWords(found, job.units))
        : h('span', { class: 'soft' }, isApart(job, pair) ? asks.APART : 'not checked'),
      found &&
        [
          h('span', { class: 'soft' }, where),
          h(
            'span',
            { class: 'soft' },
            `${checks.places_of(pair) - found.unchecked.length} of ${checks.places_of(pair)}`,
          ),
        ],
    ),
  );
}

function overview(app, job, round) {
  const found = job.findings(round).clearance;
  const naming = ownName(
    'Another pair',
    ['One part', 'The other part'],
    (one, other) => app.redraw({ phase: 'pair', pair: [one, other] }),
  );
  return {
    parts: [
      staleNotice(job, round, STEP),
      found && h('p', { class: 'answer' }, runs(jointAnswers.clearance_told(found, job.units))),
      h('ul', { class: 'rows' }, pairsOf(job, round).map((pair) => pairRow(app, job, round, pair))),
      isOpen(job) && naming,
      cautionList(steps.CAUTIONS[STEP]),
      h('div', { class: 'bottom row-buttons' }, nextButton(app, job, round, STEP)),
    ],
    busy: () => naming.open,
  };
}

function bodyAt(pair, place) {
  return { step: STEP, field: 'gap', between: pair, ...place };
}

function entryAt(job, round, pair, place) {
  return likeBefore(job, round, 'reading', bodyAt(pair, place));
}

/** The first place from this one on that nobody has looked at since the last change, or null. */
function nextPlace(job, round, pair, after = null) {
  const wanted = PLACES.filter(({ state }) =>
    checks.states_of(pair).includes(SHEET_STATES[state] ?? state)
  );
  const at = after
    ? wanted.findIndex(({ state, lock }) => state === after.state && lock === after.lock) + 1
    : 0;
  return [...wanted.slice(at), ...wanted.slice(0, at)].find((place) => {
    const entry = entryAt(job, round, pair, place);
    return !entry || job.isOvertaken(entry, STEP);
  }) ?? null;
}

function cellWords(entry) {
  if (!entry) return h('span', { class: 'soft' }, '\u2013');
  const { mark, value, unit } = entry.body;
  // A cell is narrow: the unit may go under its number.
  return mark
    ? h('strong', { class: 'word-outside' }, SHORT[mark])
    : lengths.show_length(value, unit ?? 'mm').replaceAll('\u202f', ' ');
}

function cell(app, job, round, pair, place, now) {
  const entry = entryAt(job, round, pair, place);
  const old = entry !== null && job.isOvertaken(entry, STEP);
  const said = entry
    ? `${entryWords.reading_value(entry.body)}${old ? ', before the change' : ''}`
    : 'not checked';
  const here = now && now.state === place.state && now.lock === place.lock;
  return h(
    'td',
    {},
    h('button', {
      type: 'button',
      class: `cell${here ? ' now' : ''}${old ? ' overtaken' : ''}`,
      disabled: !isOpen(job),
      'aria-pressed': here ? 'true' : 'false',
      'aria-label': `${asks.where_words(place)}: ${said}`,
      onclick: () => app.redraw({ phase: 'pair', pair, cell: place }),
    }, cellWords(entry)),
  );
}

/** Travel states down, locks across; left is left unless flipped. */
function grid(app, job, round, pair, now) {
  const locks = app.flip ? [...LOCKS].reverse() : LOCKS;
  return h(
    'table',
    { class: 'places-grid' },
    h(
      'thead',
      {},
      h(
        'tr',
        {},
        h('td', {}),
        locks.map((lock) =>
          h('th', { scope: 'col' }, lockMark(lock, app.flip), asks.LOCK_NAMES[lock])
        ),
      ),
    ),
    h(
      'tbody',
      {},
      STATES.map((state) =>
        h(
          'tr',
          {},
          h('th', { scope: 'row' }, stateMark(state, app.flip), asks.STATE_NAMES[state]),
          locks.map((lock) => cell(app, job, round, pair, { state, lock }, now)),
        )
      ),
    ),
  );
}

function drafted(job, round, pair, place, kept, typed) {
  return replacingLike(job, round, 'reading', { ...bodyAt(pair, place), ...kept }, typed);
}

async function keepAt(app, job, round, pair, place, entries, options = {}) {
  await app.keep(entries, options);
  const fresh = await loadJob(app.store, job.job);
  const next = nextPlace(fresh, round, pair, place);
  await app.redraw({ pair, cell: next, ...(next ? {} : { gap: false }) });
}

function marks(app, job, round, pair, place, gap) {
  const mark = (what, words) =>
    h('button', {
      type: 'button',
      onclick: () => {
        const kept = { value: null, mark: what };
        return keepAt(app, job, round, pair, place, [drafted(job, round, pair, place, kept, null)]);
      },
    }, words);
  return h(
    'div',
    { class: 'row-buttons marks' },
    mark('touches', 'Touches'),
    mark('witness mark', 'Witness mark'),
    !gap &&
      h(
        'button',
        { type: 'button', class: 'main', onclick: () => app.redraw({ gap: true }) },
        'Gap',
      ),
  );
}

async function gapPad(app, job, round, pair, place) {
  const key = `${job.job}|${round}|${STEP}|${pair.join('|')}|${place.state}|${place.lock}`;
  const draft = new Draft(app.store);
  // What touches has no gap.
  const draftOf = ({ value, unit, typed, read_to }) => {
    const kept = value === 0
      ? { value: null, mark: 'touches' }
      : { value, mark: null, unit, read_to };
    return drafted(job, round, pair, place, kept, typed);
  };
  const pad = new TapePad({
    tape: app.tape ?? tapeFor(job.units, job.record.read_to),
    distance: true,
    askBack: (reading) => askOf(job, round, 'clearance[].gap', reading.value, [draftOf(reading)]),
    onText: (text) => draft.note(key, text),
    onTape: (name) => {
      app.tape = name;
    },
    onKeep: ({ confirmed, ...reading }) => {
      draft.cancel();
      const entries = [draftOf(reading), ...confirming(job, round, confirmed)];
      return keepAt(app, job, round, pair, place, entries, { dropDraft: key });
    },
  });
  pad.ask('Save gap', `Gap ${asks.where_words(place)}`);
  pad.text = await app.store.draft(key) ?? '';
  return pad;
}

/** The way to say that two parts never come near each other, or to take it back. */
function apartButton(app, job, round, pair) {
  const apart = isApart(job, pair);
  const said = { step: STEP, field: 'apart', value: { between: pair, apart: !apart } };
  const say = async () => {
    await app.keep([replacingLike(job, round, 'pick', said)]);
    await app.redraw(apart ? {} : { phase: null, pair: null, cell: null, gap: false });
  };
  return isOpen(job) &&
    h('button', { type: 'button', onclick: say }, apart ? 'They do come near' : 'Never near');
}

function doneButtons(app) {
  return h(
    'div',
    { class: 'bottom row-buttons' },
    h('button', {
      type: 'button',
      class: 'main',
      onclick: () => app.redraw({ phase: null, pair: null, cell: null, gap: false }),
    }, 'All pairs'),
  );
}

async function onePair(app, job, round, pair, cell, gap) {
  const found = foundOf(job, round, pair);
  const now = isOpen(job) ? cell ?? nextPlace(job, round, pair) : null;
  const head = [
    h('h2', {}, jointAnswers.capital(asks.pair_words(pair))),
    !now && found && h('p', { class: 'answer' }, jointReasons.pair_sentences(found, job.units)),
  ];
  if (!now) return { parts: [head, grid(app, job, round, pair, null), doneButtons(app)] };
  const ask = h('p', { class: 'ask' }, asks.ask_gap(pair, now));
  if (!gap) {
    return {
      parts: [
        head,
        isApart(job, pair) && h('p', { class: 'notice' }, asks.apart_words(pair)),
        grid(app, job, round, pair, now),
        !found && apartButton(app, job, round, pair),
        ask,
        h('div', { class: 'bottom' }, marks(app, job, round, pair, now, false)),
      ],
      measuring: true,
      refresh: async () => {},
    };
  }
  const pad = await gapPad(app, job, round, pair, now);
  pad.element.prepend(h('div', { class: 'pad-marks' }, marks(app, job, round, pair, now, true)));
  return {
    parts: [head, grid(app, job, round, pair, now), pad.element],
    measuring: true,
    focus: pad.input,
    refresh: async () => {},
  };
}

/**
 * The screen; `pair` is the one in hand, `cell` the place {state, lock} asked for, `gap` whether
 * the tape pad is open.
 */
export async function show(
  app,
  { id, round, phase = null, pair = null, cell = null, gap = false },
) {
  const job = await loadJob(app.store, id);
  const one = phase === 'pair' && pair;
  const view = one ? await onePair(app, job, round, pair, cell, gap) : overview(app, job, round);
  const back = one ? () => app.redraw({ phase: null, pair: null, cell: null, gap: false }) : null;
  return stepScreen(app, job, round, STEP, view, back);
}

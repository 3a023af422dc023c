/** Hand in: what is missing, what the lead will read, and the handing in. */

import { answerLine, cautionList } from '../parts/answer/findings.js';
import { closedWords, isOpen, placesBar, placesOf, stepHead } from '../parts/measure/step.js';
import { h } from '../dom.js';
import { longest } from '../store/contract.js';
import { holdPointBoxes } from '../parts/measure/changes.js';
import { loadJob } from '../model.js';
import { fold, missing, numbers, people_words as peopleWords, steps, terms } from '../reckon.js';
import { withDraft } from '../parts/measure/form_draft.js';

const NOT_MEASURED = ['change', 'hand_in'];

/**
 * The titles of the steps in one of these states, as a sentence that begins with `says`; nothing
 * where there are none.
 */
function stepsThat(places, state, says) {
  const titles = places.filter((place) =>
    place.state === state && !NOT_MEASURED.includes(place.step)
  ).map(({ title }) => title);
  return titles.length ? `${says} ${titles.join(', ')}. ` : '';
}

function missingList(job, round, lacking) {
  const places = placesOf(job, round);
  const rest = [
    stepsThat(places, 'carried', 'Carried over, not confirmed:'),
    stepsThat(places, 'empty', 'Not started:'),
  ].join('');
  if (!lacking.length) return h('p', {}, 'Every step that was started is complete. ', rest);
  return [
    h('h2', {}, 'Still missing'),
    h(
      'ul',
      { class: 'rows' },
      lacking.map(({ step, says }) =>
        h(
          'li',
          {},
          h(
            'a',
            { class: 'row', href: `/app#/job/${job.job}/${round}/${step}` },
            h('span', {}, says),
          ),
        )
      ),
    ),
    rest && h('p', {}, rest),
  ];
}

/** What was typed in this round and never saved, each with its step; the reason here aside. */
async function unsavedList(app, job, round) {
  const drafts = (await app.store.drafts()).map(({ key, text }) => {
    const [id, at, step] = key.split('|');
    const place = steps.STEPS.find((each) => each.step === step);
    return id === job.job && at === round && step !== 'hand_in' && { place, text };
  }).filter((draft) => draft && draft.text);
  return drafts.length > 0 && [
    h('h2', {}, 'Typed, but not saved'),
    h(
      'ul',
      { class: 'rows' },
      drafts.map(({ place, text }) =>
        h(
          'li',
          {},
          h(
            'a',
            { class: 'row', href: `/app#/job/${job.job}/${round}${place ? `/${place.step}` : ''}` },
            h('b', {}, place?.title ?? 'Note'),
            h('span', {}, typedText(text)),
          ),
        )
      ),
    ),
  ];
}

// A pad's draft is its text, a form's the pairs of its fields.
function typedText(text) {
  return text.startsWith('[')
    ? JSON.parse(text).map(([, value]) => value).filter(Boolean).join(', ')
    : text;
}

function form(app, job, round, lacking) {
  const key = `${job.job}|${round}|hand_in`;
  const incomplete = lacking.length > 0;
  const fault = h('p', { class: 'fault', role: 'alert' });
  const reason = h('textarea', {
    name: 'reason',
    rows: '2',
    maxlength: longest('hand_in', 'reason'),
    'aria-label': 'Why it is handed in incomplete',
  });
  const submit = async (event) => {
    event.preventDefault();
    if (incomplete && !reason.value.trim()) {
      fault.textContent = 'Say why it is handed in incomplete.';
      return reason.focus();
    }
    await app.keep([{
      kind: 'hand_in',
      vehicle: job.vehicle,
      job: job.job,
      round,
      typed: reason.value || null,
      body: {
        missing: lacking.map(({ says }) => says),
        reason: incomplete ? reason.value.trim() : null,
      },
    }], { dropDraft: key });
    await app.redraw();
  };
  const typed = h(
    'form',
    { class: 'hand-in', onsubmit: submit },
    incomplete && h('label', { class: 'field' }, 'Why it is handed in incomplete', reason, fault),
    h(
      'div',
      { class: 'bottom row-buttons' },
      h('button', { class: 'main' }, incomplete ? 'Hand in incomplete' : 'Hand in'),
    ),
  );
  return withDraft(app, key, typed);
}

// What is counted of what goes to the lead, each with the kinds of entry that it is.
const SENT = {
  reading: ['reading'],
  answer: ['tick', 'pick', 'confirm'],
  change: ['change'],
  photo: ['photo'],
  note: ['note'],
  plan: ['plan'],
};

/** What a hand-in sends, in a sentence. */
function sentWords(job) {
  const stand = fold.standing(job.entries);
  const counts = Object.entries(SENT).map(([name, kinds]) => {
    const count = stand.filter(({ kind }) => kinds.includes(kind)).length;
    return count && numbers.counted(count, name);
  }).filter(Boolean);
  const rounds = job.rounds.map((round) => terms.ROUND_WORDS[round]).join(', ');
  return `The lead gets ${counts.join(', ') || 'nothing yet'}, in ${rounds}.`;
}

/** The way to take a hand-in back while the lead has not decided. */
function takeBack(app, job) {
  const strike = async () => {
    await app.strike(job, job.hand_in, 'Taken back');
    await app.redraw();
  };
  return job.state === 'pending' && !job.accepted &&
    h('button', { type: 'button', onclick: strike }, 'Take it back');
}

function handedIn(job) {
  if (isOpen(job)) return null;
  const there = job.hand_in.seq
    ? 'The shop has it.'
    : 'It is on this phone only, until the phone reaches the shop again.';
  return h('p', { class: 'answer' }, job.state === 'pending' ? `Handed in. ${there}` : 'Accepted.');
}

/** The screen. */
export async function show(app, { id, round }) {
  const job = await loadJob(app.store, id);
  const lacking = missing.missing(job.sheet(round), job.stale(round), job.scope);
  const people = await app.store.fact('people') ?? {};
  const open = isOpen(job);
  const typing = open && await form(app, job, round, lacking);
  return {
    ...stepHead(app, job, round, 'hand_in'),
    parts: [
      placesBar(job, round, 'hand_in'),
      handedIn(job),
      takeBack(app, job),
      closedWords(job),
      h('p', {}, sentWords(job)),
      open && missingList(job, round, lacking),
      open && await unsavedList(app, job, round),
      holdPointBoxes(app, job, round, peopleWords.called(people, null)),
      answerLine(job.findings(round)),
      cautionList(steps.CAUTIONS.hand_in),
      typing,
    ],
    busy: () => Boolean(typing) && typing.contains(document.activeElement),
  };
}

/** A job: its steps, its rounds side by side in words, and every entry that it holds. */

import {
  decision_words as decisionWords,
  entry_words as entryWords,
  fold,
  log_sentences as logSentences,
  people_words as peopleWords,
  steps,
  terms,
} from '../reckon.js';
import { answerLine } from '../parts/answer/findings.js';
import { askReason } from '../parts/measure/readings.js';
import { beforeAfter } from '../parts/answer/compare.js';
import {
  closedWords,
  isOpen,
  placesOf,
  STEP_STATES,
  stepHead,
  wantedIn,
} from '../parts/measure/step.js';
import { h } from '../dom.js';
import { longest } from '../store/contract.js';
import { holdAnswers } from '../parts/answer/hold.js';
import {
  holdPointBoxes,
  movedBox,
  nextRoundButton,
  staleNotice,
} from '../parts/measure/changes.js';
import { loadJob } from '../model.js';
import { photoGallery } from '../parts/device/gallery.js';
import { withDraft } from '../parts/measure/form_draft.js';

const STRIKABLE = ['reading', 'note', 'change', 'photo', 'plan', 'confirm'];

function stepRows(job, round) {
  return h(
    'ul',
    { class: 'rows' },
    placesOf(job, round).map(({ step, title, state }) =>
      h(
        'li',
        {},
        h(
          'a',
          { class: 'row', href: `/app#/job/${job.job}/${round}/${step}` },
          h('b', {}, title),
          h('span', { class: 'soft' }, state === 'empty' ? '' : STEP_STATES[state]),
        ),
      )
    ),
  );
}

function roundLinks(job, round) {
  const link = (each, text) =>
    h('a', { class: 'button', href: `/app#/job/${job.job}/${each}` }, text);
  const others = fold.ROUNDS.filter((each) => job.rounds.includes(each) && each !== round);
  const last = fold.ROUNDS.indexOf(job.rounds.at(-1));
  const following = isOpen(job)
    ? fold.ROUNDS.filter((each, index) => index > last && each !== round)
    : [];
  return h(
    'nav',
    { class: 'round-links', 'aria-label': 'Rounds' },
    others.map((each) => link(each, `Round: ${terms.ROUND_WORDS[each]}`)),
    following.map((each) => link(each, `Start round: ${terms.ROUND_WORDS[each]}`)),
  );
}

function logItem(app, job, entry, stands, names) {
  const target = job.entries.find(({ id }) => id === entry.body.target) ?? null;
  const words = entryWords.entry_sentence(entry, target, job.units);
  const strike = async () => {
    if (!stands) return app.bringBack(job, entry);
    const reason = await askReason(words);
    if (reason) await app.strike(job, entry, reason);
  };
  const where =
    { kept: 'on this phone only', needs_you: 'not accepted by the shop' }[entry.state] ??
      `no. ${entry.seq}`;
  return h(
    'li',
    {},
    h(
      'span',
      { class: stands ? null : 'struck-out' },
      logSentences.log_sentence(entry, target, names, job.units),
    ),
    isOpen(job) && STRIKABLE.includes(entry.kind)
      ? h('button', {
        type: 'button',
        'aria-label': `${stands ? 'Strike' : 'Undo strike'}: ${words}`,
        onclick: strike,
      }, stands ? 'Strike' : 'Undo strike')
      : h('span', {}),
    h(
      'span',
      { class: 'soft' },
      entry.typed && `typed ${entry.typed}, `,
      `${entry.made_at.slice(0, 16).replace('T', ' ')}, ${where}`,
    ),
  );
}

function log(app, job, names, open) {
  const standing = new Set(fold.standing(job.entries).map(({ id }) => id));
  return h(
    'details',
    { class: 'box', open },
    h(
      'summary',
      {},
      `Everything logged: ${job.entries.length} ${job.entries.length === 1 ? 'entry' : 'entries'}`,
    ),
    h(
      'ol',
      { class: 'log' },
      job.entries.map((entry) => logItem(app, job, entry, standing.has(entry.id), names))
        .reverse(),
    ),
  );
}

async function noteForm(app, job, round) {
  const key = `${job.job}|${round}|note`;
  const maxlength = longest('note', 'text');
  const text = h('textarea', { name: 'text', rows: '2', maxlength, required: true });
  const noting = h(
    'details',
    { class: 'box' },
    h('summary', {}, 'Write a note'),
    h(
      'form',
      {
        class: 'note',
        onsubmit: async (event) => {
          event.preventDefault();
          if (!text.value.trim()) return;
          await app.keep([{
            kind: 'note',
            vehicle: job.vehicle,
            job: job.job,
            round,
            typed: text.value,
            body: { text: text.value.trim() },
          }], { dropDraft: key });
          noting.open = false;
          await app.redraw();
        },
      },
      h('label', { class: 'field' }, 'Note', text),
      h('button', { class: 'main' }, 'Save note'),
    ),
  );
  await withDraft(app, key, noting.querySelector('form'));
  noting.open = Boolean(text.value);
  return noting;
}

async function photoBox(app, job, round) {
  const gallery = await photoGallery(app, job);
  const take = isOpen(job) &&
    h('a', { class: 'button', href: `/app#/job/${job.job}/${round}/photo` }, 'Take a photo');
  return (gallery || take) &&
    h('section', { class: 'photo-box' }, gallery && h('h2', {}, 'Photos'), gallery, take);
}

function sentBack(job) {
  return job.state === 'sent_back' &&
    h(
      'p',
      { class: 'notice', role: 'status' },
      `Sent back by the lead: ${job.decision.body.reason ?? ''}`,
    );
}

/** What came in after the job was accepted, and who accepted their own work and why. */
function acceptedNotice(job) {
  const later = decisionWords.later_sentence(job);
  const own = job.accepted?.body.own_reason && decisionWords.verdict_words(job.accepted.body);
  return [later, own].filter(Boolean).map((says) =>
    h('p', { class: 'notice', role: 'status' }, says)
  );
}

function secondReading(job) {
  return job.second_of && isOpen(job) &&
    h(
      'p',
      { class: 'notice' },
      'Second reading: measure as if it were the first time. The first readings are hidden until ' +
        'you hand this in.',
    );
}

/** The screen. */
export async function show(app, { id, round }) {
  const job = await loadJob(app.store, id);
  if (!job) {
    return {
      title: 'Job',
      back: () => app.go('#/'),
      parts: [h('p', {}, 'This job is not on this phone yet.')],
    };
  }
  const { people = {}, person = null } = await app.store.facts();
  const wanted = wantedIn(job, round);
  const first =
    placesOf(job, round).find((place) =>
      place.state !== 'done' && steps.is_wanted(place, wanted)
    ) ??
      steps.STEPS.at(-1);
  const open = document.querySelector('main details[open] .log') !== null;
  const [noting, photos] = [
    await noteForm(app, job, round),
    await photoBox(app, job, round),
  ];
  return {
    ...stepHead(app, job, round, null),
    parts: [
      job.about && h('h2', {}, job.about),
      h('p', { class: 'soft' }, decisionWords.state_words(job)),
      acceptedNotice(job),
      sentBack(job),
      secondReading(job),
      closedWords(job),
      staleNotice(job, round),
      answerLine(job.findings(round)),
      holdAnswers(app, job, round),
      movedBox(job, round),
      stepRows(job, round),
      holdPointBoxes(app, job, round, peopleWords.called(people, null)),
      beforeAfter(job, app.flip),
      roundLinks(job, round),
      isOpen(job) && noting,
      photos,
      log(app, job, peopleWords.called(people, person?.id ?? null), open),
      isOpen(job) &&
      h(
        'div',
        { class: 'bottom row-buttons' },
        nextRoundButton(app, job, round) ??
          h('button', {
            type: 'button',
            class: 'main',
            onclick: () => app.go(`#/job/${id}/${round}/${first.step}`),
          }, `Continue: ${(first.title ?? 'hand in').toLowerCase()}`),
      ),
    ],
    busy: () => noting.open,
  };
}

/** A job: its steps, its rounds side by side in words, and every entry that it holds. */

import {answer, fold, walk, words as terms} from '../reckon.js';
import {answerLine} from '../parts/findings.js';
import {askReason, typedWords} from '../parts/readings.js';
import {closedWords, isOpen, stepHead} from '../parts/step.js';
import {h, runs} from '../dom.js';
import {loadJob} from '../model.js';

const KINDS = {job: 'job opened', reading: '', tick: 'tick', pick: 'pick', note: 'note', strike: 'strike', hand_in: 'handed in', decision: 'lead', change: 'change', photo: 'photo'};
const STRIKABLE = ['reading', 'note', 'change'];

function stepRows(job, round) {
  const said = {done: 'done', begun: 'begun', empty: ''};
  return h('ul', {class: 'rows'}, walk.places(job.sheet(round), job.state).map(({step, title, state}) =>
    h('li', {}, h('a', {class: 'row', href: `/app#/job/${job.job}/${round}/${step}`}, h('b', {}, title), h('span', {class: 'small soft'}, said[state])))));
}

function roundLinks(app, job, round) {
  const others = fold.ROUNDS.filter((each) => job.rounds.includes(each) && each !== round);
  const following = isOpen(job) && fold.ROUNDS.filter((each) => !job.rounds.includes(each) && each !== round);
  const link = (each, text) => h('a', {class: 'button', href: `/app#/job/${job.job}/${each}`}, text);
  return h('div', {class: 'row-buttons'},
    others.map((each) => link(each, `Round: ${terms.ROUND_WORDS[each]}`)),
    following && following.includes('as_left') && link('as_left', 'Begin round: as left'));
}

function beforeAfter(job) {
  const judged = job.rounds.filter((each) => job.findings(each).centring?.offset !== undefined);
  if (judged.length < 2) return null;
  const [first, last] = [judged[0], judged.at(-1)];
  const sentence = answer.before_after(job.findings(first), job.findings(last), job.units);
  return sentence.length > 0 && h('section', {class: 'box before-after'}, h('h2', {}, `From ${terms.ROUND_WORDS[first]} to ${terms.ROUND_WORDS[last]}`), h('p', {class: 'answer'}, runs(sentence)));
}

function said(entry, units) {
  const {body} = entry;
  const value = (each) => (typeof each === 'object' ? Object.values(each).join(' ') : String(each));
  return {
    reading: () => `${walk.BAR_NAMES[body.field] ?? `${body.step === 'heights' ? 'ride height' : 'reading'} ${body.field}`} ${typedWords(entry, units)}`,
    tick: () => `${terms.TICK_WORDS[body.field] ?? body.field}: ${body.value ? 'yes' : 'no'}`,
    pick: () => `${body.field.replaceAll('_', ' ')}: ${value(body.value).replaceAll('_', ' ')}`,
    strike: () => `strike: ${body.reason}`,
    note: () => `note: ${body.text}`,
    hand_in: () => (body.reason ? `handed in incomplete: ${body.reason}` : 'handed in'),
    decision: () => `${terms.JOB_STATES[body.verdict]}${body.reason ? `: ${body.reason}` : ''}`,
    change: () => `change: ${(body.what ?? '').replaceAll('_', ' ')}`,
  }[entry.kind]?.() ?? KINDS[entry.kind] ?? entry.kind;
}

function logItem(app, job, entry, stands, people) {
  const words = said(entry, job.units);
  const strike = async () => {
    if (!stands) return app.bringBack(job, entry);
    const reason = await askReason(words);
    if (reason) await app.strike(job, entry, reason);
  };
  const where = {kept: 'on this phone only', needs_you: 'not accepted by the shop'}[entry.state] ?? `no. ${entry.seq}`;
  return h('li', {}, h('span', {class: stands ? null : 'struck-out'}, words),
    isOpen(job) && STRIKABLE.includes(entry.kind) ? h('button', {type: 'button', 'aria-label': `${stands ? 'Strike' : 'Bring back'}: ${words}`, onclick: strike}, stands ? 'Strike' : 'Bring back') : h('span', {}),
    h('span', {class: 'small soft'}, `${people[entry.person]?.name ?? 'this phone'}, ${entry.made_at.slice(0, 16).replace('T', ' ')}, ${where}`));
}

function log(app, job, people, open) {
  const standing = new Set(fold.standing(job.entries).map(({id}) => id));
  return h('details', {class: 'box', open}, h('summary', {}, `Everything logged: ${job.entries.length} entries`),
    h('ol', {class: 'log'}, job.entries.map((entry) => logItem(app, job, entry, standing.has(entry.id), people)).reverse()));
}

function noteForm(app, job, round) {
  const text = h('textarea', {name: 'text', rows: '2', maxlength: '2000', required: true});
  const noting = h('details', {class: 'box'}, h('summary', {}, 'Write a note'), h('form', {class: 'note', onsubmit: async (event) => {
    event.preventDefault();
    if (!text.value.trim()) return;
    await app.keep([{kind: 'note', vehicle: job.vehicle, job: job.job, round, typed: text.value, body: {text: text.value.trim()}}]);
    noting.open = false;
    await app.redraw();
  }}, h('label', {class: 'field'}, 'Note', text), h('button', {class: 'main'}, 'Keep the note')));
  return noting;
}

function sentBack(job) {
  return job.state === 'sent_back' && h('p', {class: 'notice', role: 'status'}, `Sent back by the lead: ${job.decision.body.reason ?? ''}`);
}

/** The screen. */
export async function show(app, {id, round}) {
  const job = await loadJob(app.store, id);
  if (!job) return {title: 'Job', back: () => app.go('#/'), parts: [h('p', {}, 'This phone holds nothing of that job yet.')]};
  const people = await app.store.fact('people') ?? {};
  const first = walk.places(job.sheet(round), job.state).find(({state}) => state !== 'done') ?? walk.STEPS.at(-1);
  const open = document.querySelector('main details[open] .log') !== null;
  const noting = noteForm(app, job, round);
  return {
    ...stepHead(app, job, round, null),
    parts: [
      job.about && h('h2', {}, job.about), h('p', {class: 'soft'}, terms.JOB_STATES[job.state]), sentBack(job), closedWords(job), answerLine(job.findings(round)), stepRows(job, round), beforeAfter(job), roundLinks(app, job, round),
      isOpen(job) && noting, log(app, job, people, open),
      isOpen(job) && h('div', {class: 'bottom row-buttons'}, h('button', {type: 'button', class: 'main', onclick: () => app.go(`#/job/${id}/${round}/${first.step}`)}, `Go on: ${(first.title ?? 'hand in').toLowerCase()}`)),
    ],
    busy: () => noting.open,
  };
}

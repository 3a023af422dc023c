/** Track bar: its ends, length, heights and adjuster; then what to turn, and its arc. */

import {cautionList, findingsView} from '../parts/findings.js';
import {closedWords, isOpen, nextButton, placesBar, replacing, standingEntry, stepHead} from '../parts/step.js';
import {draw as drawMeasure} from '../figures/measure.js';
import {Draft} from '../parts/rounds.js';
import {lengths, recorded, walk} from '../reckon.js';
import {h} from '../dom.js';
import {loadJob} from '../model.js';
import {TapePad, tapeFor} from '../parts/tapepad.js';
import {typedWords} from '../parts/readings.js';
import {adjusterForm, adjusterWords} from '../parts/adjuster.js';

const STEP = 'track_bar';

/** Where a value comes from: measured here, confirmed, or carried over from the vehicle's record. */
function origin(job, round, field) {
  const here = standingEntry(job, round, recorded.BAR_PICKS.includes(field) ? 'pick' : 'reading', field, STEP);
  if (here) return {words: here.state === 'kept' ? 'this phone' : 'measured', entry: here};
  if (job.sheet(round).track_bar?.[field] === undefined) return {words: ''};
  const confirmed = standingEntry(job, round, 'pick', 'carried', STEP);
  return {words: confirmed ? 'confirmed' : 'carried over'};
}

function shownValue(job, round, field) {
  const value = job.sheet(round).track_bar?.[field];
  const {entry} = origin(job, round, field);
  if (entry?.kind === 'reading') return typedWords(entry, job.units);
  if (value === undefined || value === null) return 'not known';
  if (field === 'adjuster') return adjusterWords(value);
  return field === 'frame_end' ? value : lengths.show_length(Math.abs(value), job.units);
}

function row(app, job, round, field, name) {
  return h('li', {}, h('button', {type: 'button', class: 'row', disabled: !isOpen(job), onclick: () => app.redraw({field})},
    h('b', {}, name), h('span', {}, shownValue(job, round, field)), h('span', {class: 'small soft wide'}, origin(job, round, field).words)));
}

function rows(app, job, round) {
  return h('ul', {class: 'rows'}, row(app, job, round, 'frame_end', 'Frame end on the'),
    recorded.BAR_READINGS.map((field) => row(app, job, round, field, walk.BAR_NAMES[field])), row(app, job, round, 'adjuster', 'Adjuster'));
}

function carriedButton(app, job, round) {
  const carried = [...recorded.BAR_PICKS, ...recorded.BAR_READINGS].some((field) => origin(job, round, field).words === 'carried over');
  const confirm = async () => {
    await app.keep([replacing(job, round, 'pick', {step: STEP, field: 'carried', value: true})]);
    await app.redraw();
  };
  return carried && isOpen(job) && h('button', {type: 'button', onclick: confirm}, 'The carried values still hold');
}

async function keepPick(app, job, round, field, value) {
  await app.keep([replacing(job, round, 'pick', {step: STEP, field, value})]);
  await app.redraw({field: null});
}

function sidePicks(app, job, round) {
  const chosen = job.sheet(round).track_bar?.frame_end;
  return h('fieldset', {}, h('legend', {}, 'The frame end of the bar is on the'), h('div', {class: 'picks abreast'}, ['left', 'right'].map((side) =>
    h('label', {class: 'pick'}, h('input', {type: 'radio', name: 'frame_end', value: side, checked: side === chosen, onchange: () => keepPick(app, job, round, 'frame_end', side)}), side))));
}

async function padFor(app, job, round, field) {
  const key = `${job.job}|${round}|${STEP}|${field}`;
  const draft = new Draft(app.store);
  const pad = new TapePad({
    tape: app.tape ?? tapeFor(job.units, job.record.read_to),
    onText: (text) => draft.note(key, text), onTape: (name) => { app.tape = name; },
    onKeep: async ({value, unit, typed, read_to}) => {
      draft.cancel();
      await app.keep([replacing(job, round, 'reading', {step: STEP, field, value, unit, read_to}, typed)], {dropDraft: key});
      await app.redraw({field: null});
    },
  });
  const name = walk.BAR_NAMES[field].toLowerCase();
  pad.ask(`Keep ${name}`, walk.BAR_NAMES[field]);
  pad.text = await app.store.draft(key) ?? '';
  return pad;
}

async function entering(app, job, round, field) {
  const back = h('button', {type: 'button', onclick: () => app.redraw({field: null})}, 'Leave as it is');
  if (field === 'frame_end') return {parts: [sidePicks(app, job, round), back]};
  if (field === 'adjuster') return {parts: [adjusterForm(job.sheet(round).track_bar?.adjuster, (value) => keepPick(app, job, round, field, value)), back], refresh: async () => {}};
  const pad = await padFor(app, job, round, field);
  const picture = drawMeasure({step: STEP, field, frame_end: job.sheet(round).track_bar?.frame_end ?? 'left', flip: app.flip});
  return {parts: [h('h2', {}, walk.BAR_NAMES[field]), h('p', {class: 'ask'}, walk.BAR_ASKS[field]), picture, back, pad.element], measuring: true, focus: pad.input, refresh: async () => {}};
}

function overview(app, job, round) {
  const findings = job.findings(round);
  return {parts: [findingsView(job.sheet(round), findings, {record: job.record, flip: app.flip, onFlip: () => app.turn()}),
    travelButton(app, job, round), rows(app, job, round), carriedButton(app, job, round), cautionList(walk.CAUTIONS[STEP]),
    h('div', {class: 'bottom row-buttons'}, nextButton(app, job, round, STEP))]};
}

function travelButton(app, job, round) {
  return h('button', {type: 'button', onclick: () => app.go(`#/job/${job.job}/${round}/travel`)}, 'Through the travel, and what if');
}

/** The screen; `field` is the value being entered, or null for all of them. */
export async function show(app, {id, round, field = null}) {
  const job = await loadJob(app.store, id);
  const view = field && isOpen(job) ? await entering(app, job, round, field) : overview(app, job, round);
  return {...stepHead(app, job, round, STEP), ...view, parts: [placesBar(job, round, STEP), closedWords(job), view.parts]};
}

/** One vehicle: where its axle sat last, its history, its jobs, and the opening of a job. */

import { answerLine } from '../parts/answer/findings.js';
import { draw as drawHistory } from '../figures/history.js';
import { h } from '../dom.js';
import { longest } from '../store/contract.js';
import { photoGallery } from '../parts/device/gallery.js';
import { leftOpen } from '../parts/measure/changes.js';
import { loadVehicle } from '../model.js';
import { uuid } from '../store/entries.js';
import { setUpHelp } from '../parts/device/install.js';
import { unreadableBox } from '../parts/answer/unreadable.js';
import {
  day_words as dayWords,
  decision_words as decisionWords,
  due,
  fold,
  job_view as jobView,
  joint_answers as jointAnswers,
  last_time as log,
  last_time_words as words,
  people_words as peopleWords,
  step_names as stepNames,
  tag_words as tagWords,
  tags,
  terms,
} from '../reckon.js';

function facts(record) {
  const side = record.driving_side === 'right' ? 'right-hand drive' : 'left-hand drive';
  const ends = Object.entries(record.track_bars ?? {}).map(([axle, bar]) =>
    `${axle} bar with its frame end on the ${bar.frame_end}`
  );
  const bar = ends.length ? ends.join(', ') : 'track bar not on file yet';
  return h(
    'p',
    { class: 'soft' },
    [side, bar, record.units === 'in' ? 'inches' : 'millimeters'].join(', '),
    record.note ? h('br') : null,
    record.note ?? null,
  );
}

function jobRow(job) {
  const round = job.rounds.at(-1);
  return h(
    'li',
    {},
    h(
      'a',
      { class: 'row', href: `/app#/job/${job.job}/${round}` },
      h('b', {}, job.about || `${job.axle} axle`),
      h('span', {}, decisionWords.state_words(job)),
      h(
        'span',
        { class: 'soft wide' },
        `${job.opened.made_at.slice(0, 10)}, ${job.axle} axle, ${terms.ROUND_WORDS[round]}`,
      ),
    ),
  );
}

function jobList(title, jobs) {
  return jobs.length > 0 && [h('h2', {}, title), h('ul', { class: 'rows' }, jobs.map(jobRow))];
}

function picks(name, options, chosen) {
  return h(
    'div',
    { class: 'picks abreast' },
    options.map(([value, text]) =>
      h(
        'label',
        { class: 'pick' },
        h('input', { type: 'radio', name, value, checked: value === chosen }),
        text,
      )
    ),
  );
}

/** What the lead sent back, each with the lead's words and the way to the step they are about. */
function sentBackRows(vehicle) {
  const sent = vehicle.jobs.filter(({ state }) => state === 'sent_back');
  return sent.length > 0 &&
    h(
      'ul',
      { class: 'rows' },
      sent.map(({ job, axle, about, rounds, decision: { body } }) =>
        h(
          'li',
          {},
          h(
            'a',
            {
              class: 'row',
              href: `/app#/job/${job}/${rounds.at(-1)}${body.step ? `/${body.step}` : ''}`,
            },
            h('b', {}, `What was sent back: ${about || `${axle} axle`}`),
            h('span', { class: 'soft wide' }, body.reason),
          ),
        )
      ),
    );
}

/**
 * The opening of a job: its axle, what it is about, and one touch on its scope opens it. Nothing is
 * chosen beforehand but the only axle there is.
 */
function openForm(app, vehicle, id) {
  const axles = vehicle.record.axles ?? ['front', 'rear'];
  const fault = h('p', { class: 'fault', role: 'alert' });
  const open = async (scope) => {
    const given = new FormData(form);
    const axle = given.get('axle');
    fault.textContent = axle ? '' : 'Choose the axle.';
    if (!axle) return form.elements.axle[0].focus();
    const job = uuid();
    const round = given.get('round') ?? (scope === 'recheck' ? scope : fold.ROUNDS[0]);
    const about = String(given.get('about')).trim();
    await app.keep([{ kind: 'job', vehicle: id, job, round, body: { axle, round, about, scope } }]);
    app.go(`#/job/${job}/${round}/heights`);
  };
  const scope = ([name, title]) =>
    h(
      'button',
      { type: 'button', class: 'main', onclick: () => open(name) },
      jointAnswers.capital(title),
    );
  const form = h(
    'form',
    { class: 'open-job', onsubmit: (event) => event.preventDefault() },
    sentBackRows(vehicle),
    h(
      'fieldset',
      {},
      h('legend', {}, 'Axle'),
      picks('axle', axles.map((axle) => [axle, axle]), axles.length === 1 ? axles[0] : null),
    ),
    h('div', { class: 'field' }, fault),
    h(
      'label',
      { class: 'field' },
      'What it is about (optional)',
      h('input', { name: 'about', autocomplete: 'off', maxlength: longest('job', 'about') }),
    ),
    h(
      'details',
      {},
      h('summary', {}, 'Begin with another round'),
      picks('round', fold.ROUNDS.map((round) => [round, terms.ROUND_WORDS[round]]), null),
    ),
    h('h2', {}, 'Open it for'),
    Object.entries(stepNames.SCOPES).map(scope),
  );
  return h('details', { class: 'box' }, h('summary', {}, 'Open a job'), form);
}

function lastAnswer(vehicle) {
  const job = vehicle.unsealed.findLast((each) => each.lastJudged());
  if (!job) return null;
  const round = job.lastJudged();
  return [
    h(
      'p',
      { class: 'soft' },
      `Last measured ${job.opened.made_at.slice(0, 10)}, ${terms.ROUND_WORDS[round]}.`,
    ),
    answerLine(job.findings(round)),
  ];
}

/** What was found, done and torqued in the last job of an axle that was handed in. */
async function lastTime(app, vehicle, axle, names) {
  const job = log.last_handed_in(vehicle.inTurn, axle);
  if (!job) return null;
  const judged = job.rounds.filter((round) => jobView.is_judged(job.view, round));
  const last = judged.at(-1);
  const says = [
    judged.map((round) => words.found_sentence(round, job.findings(round), job.units)),
    last && words.tape_sentence(
      job.sheet(last).centering,
      log.taped_by(job.entries, last),
      names,
    ),
    log.changes_made(job.entries).map((each) => words.done_sentence(each, names, job.units)),
    log.torqued(vehicle.inTurn, axle).map((each) => words.torque_sentence(each, names)),
  ];
  return h(
    'section',
    { class: 'box last-time' },
    h('h2', {}, `Last time on the ${axle} axle`),
    h('p', { class: 'soft' }, words.job_sentence(job)),
    says.flat().filter(Boolean).map((each) => h('p', {}, each)),
    await photoGallery(app, job),
  );
}

/** Every turn of a track bar, by whom and in which job; who turned it last stands in the title. */
function whoTurned(vehicle, names) {
  const turns = log.bar_turns(vehicle.inTurn);
  return turns.length > 0 &&
    h(
      'details',
      { class: 'box turned' },
      h('summary', {}, words.turner_words(turns, names)),
      h(
        'ul',
        { class: 'rows' },
        turns.map(({ entry, job }) =>
          h(
            'li',
            {},
            h(
              'a',
              { class: 'row', href: `/app#/job/${job.job}/${entry.round ?? job.rounds.at(-1)}` },
              h('span', { class: 'wide' }, words.done_sentence(entry, names, job.units)),
              h('span', { class: 'soft wide' }, job.about || `${job.axle} axle`),
            ),
          )
        ),
      ),
    );
}

function historyBox(app, vehicle) {
  const points = vehicle.history().map((point) => ({
    ...point,
    label: terms.ROUND_WORDS[point.round],
  }));
  return points.length > 0 &&
    h(
      'figure',
      { class: 'box history' },
      h('h2', {}, 'Offset so far, newest first, against the limit'),
      drawHistory({ points }, { flip: app.flip }),
    );
}

/** What is due: bolts to check again, axles to measure again. */
function dueNotices(vehicle) {
  return due.due_of(vehicle.entries.filter(({ job }) => !job)).map((line) =>
    h('p', { class: 'notice' }, dayWords.due_sentence(line))
  );
}

/** What to know of the tag that was scanned to come here, where it counts no more. */
function tagNotice(app, record) {
  const says = record.tags.includes(app.scanned) &&
    tagWords.replaced_tag_sentence(record, app.scanned);
  return says && h('p', { class: 'notice', role: 'status' }, says);
}

/** The screen. */
export async function show(app, { id }) {
  const vehicle = await loadVehicle(app.store, id);
  if (!vehicle) {
    return {
      title: 'Vehicle',
      back: () => app.go('#/'),
      parts: [
        h(
          'p',
          {},
          'This vehicle is not on this phone yet. It arrives the next time this phone reaches ' +
            'the shop.',
        ),
      ],
    };
  }
  const running = vehicle.jobs.filter(({ state }) => fold.is_open(state))
    .reverse();
  const others = vehicle.jobs.filter(({ state }) => state === 'pending' || state === 'accepted')
    .reverse();
  const { people = {}, person = null } = await app.store.facts();
  const names = peopleWords.called(people, person?.id ?? null);
  const axles = terms.AXLES.map((axle) => lastTime(app, vehicle, axle, names));
  const form = app.refuses ? setUpHelp() : openForm(app, vehicle, id);
  return {
    title: vehicle.record.name ?? 'Vehicle',
    under: tags.current_tag(vehicle.record) ?? '',
    back: () => app.go('#/'),
    parts: [
      tagNotice(app, vehicle.record),
      dueNotices(vehicle),
      leftOpen(vehicle),
      unreadableBox(vehicle.entries, vehicle.failed),
      jobList('Continue a job', running),
      form,
      lastAnswer(vehicle),
      whoTurned(vehicle, names),
      await Promise.all(axles),
      historyBox(app, vehicle),
      jobList('Handed in', others),
      facts(vehicle.record),
    ],
    busy: () => form.open,
  };
}

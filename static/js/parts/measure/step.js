/** What the steps of a walk share: their title block, the places, and single-valued entries. */

import { h } from '../../dom.js';
import { inPlaceOf } from './same_entry.js';
import { fold, links_of_round as linksOfRound, steps, terms } from '../../reckon.js';

/** The values of the steps that begin with what is on file. */
const CARRIED = {
  track_bar: [...linksOfRound.BAR_READINGS, ...linksOfRound.BAR_PICKS],
  drag_link: [...linksOfRound.LINK_READINGS, ...linksOfRound.LINK_PICKS],
};

/** How far a step is, in words. */
export const STEP_STATES = {
  done: 'done',
  carried: 'carried over',
  begun: 'begun',
  empty: 'nothing yet',
  stale: 'stale',
  asked: 'asked for',
};

/** The title block of a step of a job. */
export function stepHead(app, job, round, step) {
  return {
    title: job.record.name ?? 'Vehicle',
    under: `${job.axle} axle, ${terms.ROUND_WORDS[round]}`,
    back: () => app.go(step ? `#/job/${job.job}/${round}` : `#/vehicle/${job.vehicle}`),
  };
}

/**
 * Whether a step has values from the vehicle's file that were neither measured in this round nor
 * confirmed.
 */
function isCarried(job, round, step) {
  const here = fold.standing(job.entries).filter((entry) =>
    entry.round === round && entry.body.step === step
  ).map(({ body }) => body.field);
  const part = job.sheet(round)[step] ?? {};
  return !here.includes('carried') &&
    CARRIED[step].some((field) => (part[field] ?? null) !== null && !here.includes(field));
}

/**
 * Each step of the walk in a round with how far it is, {step, title, state}; `carried` is done but
 * for a look at it.
 */
export function placesOf(job, round) {
  const places = steps.places(job.sheet(round), job.state, job.stale(round));
  return places.map((
    place,
  ) => (place.state === 'done' && place.step in CARRIED && isCarried(job, round, place.step)
    ? { ...place, state: 'carried' }
    : place)
  );
}

/**
 * The places of the walk, with what is done, carried over, begun, stale, asked for by a change and
 * empty.
 */
export function placesBar(job, round, step) {
  const places = placesOf(job, round);
  const link = (place) =>
    h('a', {
      href: `/app#/job/${job.job}/${round}/${place.step}`,
      'aria-current': place.step === step ? 'step' : null,
      'aria-label': `${place.title}, ${STEP_STATES[place.state]}`,
    }, place.title);
  // A browser counts what keys lead to as seen when a sliver of it is.
  const whole = ({ target }) => target.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  return h(
    'nav',
    { 'aria-label': 'Steps', class: 'places-frame', onfocusin: whole },
    h(
      'ol',
      { class: 'places' },
      places.map((place) => h('li', { class: place.state }, link(place))),
    ),
  );
}

/** Brings the place where one is into view in the bar of places. */
export function showPlace(main) {
  const here = main.querySelector('.places [aria-current]');
  if (here) here.parentElement.parentElement.scrollLeft = here.offsetLeft - 100;
}

/** The steps that a job wants measured in a round, as `steps.is_wanted` takes them. */
export function wantedIn(job, round) {
  const open = job.scope === 'recheck' ? job.holdPoints().flatMap((point) => point.open) : [];
  return steps.wanted_in(job, round, open.map(({ step }) => step));
}

/** The button that leads on to the next step that the job wants or has begun. */
export function nextButton(app, job, round, step, main = true) {
  const next = steps.next_after(placesOf(job, round), step, wantedIn(job, round));
  return h('button', {
    type: 'button',
    class: main ? 'main' : null,
    onclick: () => app.go(`#/job/${job.job}/${round}/${next.step}`),
  }, `Next: ${next.title.toLowerCase()}`);
}

/**
 * The standing entry of a kind, step and field in a round that a new one would replace, or null.
 */
export function standingEntry(job, round, kind, field, step = null) {
  return fold.standing(job.entries).findLast((entry) =>
    entry.kind === kind && entry.round === round &&
    entry.body.field === field && (step === null || entry.body.step === step)
  ) ?? null;
}

/** A single-valued entry about a job, replacing the one that stands. */
export function replacing(job, round, kind, body, typed = null) {
  const before = standingEntry(job, round, kind, body.field, body.step ?? null);
  return inPlaceOf(before, job, round, kind, body, typed);
}

/** The answer that it was measured again to what was asked, as a list of entries; null is none. */
export function confirming(job, round, asked) {
  if (!asked) return [];
  const body = { code: asked.code ?? 'implausible', key: asked.key, says: asked.says };
  return [{ kind: 'confirm', vehicle: job.vehicle, job: job.job, round, typed: null, body }];
}

/** Whether entries may still be added: a job under review or accepted is only looked at. */
export function isOpen(job) {
  return fold.is_open(job.state);
}

/** Why nothing can be added, when that is so. */
export function closedWords(job) {
  return isOpen(job) ? null : h(
    'p',
    { class: 'notice' },
    job.state === 'pending'
      ? 'Handed in and waiting for the lead. Nothing more can be added unless it is sent or ' +
        'taken back.'
      : 'Accepted by the lead. Open another job to measure again.',
  );
}

/**
 * The screen of a step: its title block and places around what it shows; `back` leaves a part of
 * it, without places.
 */
export function stepScreen(app, job, round, step, view, back = null) {
  return {
    ...stepHead(app, job, round, step),
    ...(back && { back }),
    ...view,
    parts: [!back && placesBar(job, round, step), closedWords(job), view.parts],
  };
}

/** The way to the linkage in its travel and to the plans. */
export function travelButton(app, job, round) {
  return h(
    'button',
    { type: 'button', onclick: () => app.go(`#/job/${job.job}/${round}/travel`) },
    'Travel and what-if',
  );
}

/** What the store holds, folded for the screens by the arithmetic that the shop uses too. */

import {assess, fold, hold_points as holdPoints, recorded, since, stale} from './reckon.js';
import {fromFindings} from './figures/interval.js';

const JUDGED = ['inside', 'outside', 'too_close'];

function grouped(entries) {
  const jobs = new Map();
  for (const entry of entries) {
    if (!entry.job) continue;
    if (!jobs.has(entry.job)) jobs.set(entry.job, []);
    jobs.get(entry.job).push(entry);
  }
  return jobs;
}

/** The readings of a job that somebody is measuring again without knowing them. */
export class Sealed extends Error {
  constructor(job) {
    super('sealed');
    this.job = job;
  }
}

/** The ids of the jobs whose second reading is under way, among folded jobs. */
function sealedAmong(jobs) {
  const underWay = jobs.filter(({state, second_of: first}) => first && (state === 'open' || state === 'sent_back'));
  return new Set(underWay.map(({second_of: first}) => first));
}

function ownEntries(entries) {
  return entries.filter(({job}) => !job);
}

/** The house limits in mm. */
export async function limitsOf(store) {
  return fold.fold_limits(await store.entriesOf({kind: 'limit'}));
}

/** One job of a vehicle: its fold, and sheet and findings of each round when asked for. */
export class Job {
  #earlier;

  /** `lookBack(job)` finds the last accepted round before this job, {sheet, findings}, or null. */
  constructor(entries, vehicleEntries, limits, lookBack = () => null) {
    this.entries = entries;
    this.limits = limits;
    this.lookBack = lookBack;
    const folded = fold.fold_job(entries);
    Object.assign(this, folded);
    this.record = fold.record_at(vehicleEntries, folded);
    this.units = this.record.units ?? 'mm';
    this.sheets = new Map();
    this.found = new Map();
  }

  /** What stands recorded in a round. */
  sheet(round) {
    if (!this.sheets.has(round)) this.sheets.set(round, this.#compared(recorded.sheet_for(this.entries, round, this.record, this.limits), round));
    return this.sheets.get(round);
  }

  // Only a measured axle can have been moved by anything.
  #compared(sheet, round) {
    return sheet.centring ? since.with_before(sheet, this.earlier, this.entries, round) : sheet;
  }

  /** The last accepted round of this axle before this job, {sheet, findings}, or null. */
  get earlier() {
    if (this.#earlier === undefined) this.#earlier = this.lookBack(this);
    return this.#earlier;
  }

  /** What changes have overtaken in a round, {step, finding, says}. */
  stale(round) {
    return stale.stale(this.entries, round);
  }

  /** The hold points of the job, with what is open and who passed them over. */
  holdPoints() {
    return holdPoints.hold_points(this.entries, this.rounds.map((name) => ({name, sheet: this.sheet(name), findings: this.findings(name)})));
  }

  /** What the arithmetic says of a round. */
  findings(round) {
    if (!this.found.has(round)) this.found.set(round, assess.assess(this.sheet(round)));
    return this.found.get(round);
  }

  /** The last round in which the axle was judged, or null. */
  lastJudged() {
    return this.rounds.findLast((round) => JUDGED.includes(this.findings(round).centring?.state)) ?? null;
  }
}

/** A vehicle with its record and its jobs, oldest first; `entries` are all of the vehicle's. */
export class Vehicle {
  constructor(entries, limits) {
    this.entries = entries;
    const own = ownEntries(entries);
    this.record = fold.fold_vehicle(own);
    this.jobs = [...grouped(entries).values()].map((each) => new Job(each, own, limits)).filter((job) => job.opened);
    const sealed = sealedAmong(this.jobs);
    for (const job of this.jobs) job.sealed = sealed.has(job.job);
  }

  /** The jobs whose readings may be seen. */
  get unsealed() {
    return this.jobs.filter(({sealed}) => !sealed);
  }

  /** Points of the history figure, newest first; jobs sent back or still open are part of it. */
  history(most = 12) {
    const points = this.unsealed.flatMap((job) => job.rounds
      .filter((round) => JUDGED.includes(job.findings(round).centring?.state))
      .map((round) => ({...fromFindings(job.findings(round)), round, at: dayOf(job, round)})));
    return points.reverse().slice(0, most);
  }
}

function dayOf(job, round) {
  const made = job.entries.find((entry) => entry.round === round && entry.kind === 'reading')?.made_at ?? job.opened.made_at;
  return made.slice(0, 10);
}

/** The vehicle with this id, or null when this phone holds nothing of it. */
export async function loadVehicle(store, id) {
  const entries = await store.entriesOf({vehicle: id});
  return entries.length ? new Vehicle(entries, await limitsOf(store)) : null;
}

/** The job with this id and its vehicle's entries, or null; throws Sealed while it is measured again. */
export async function loadJob(store, id) {
  const [first] = await store.entriesOf({job: id});
  if (!first) return null;
  const entries = await store.entriesOf({vehicle: first.vehicle});
  const limits = await limitsOf(store);
  const jobs = grouped(entries);
  const others = [...jobs.values()].filter((each) => each.some(({kind, body}) => kind === 'job' && body.second_of === id));
  if (sealedAmong(others.map((each) => fold.fold_job(each))).has(id)) throw new Sealed(fold.fold_job(jobs.get(id)));
  return new Job(entries.filter(({job}) => job === id), ownEntries(entries), limits, (job) => earlierRound(job, entries, limits));
}

function earlierRound(job, entries, limits) {
  const jobs = grouped(entries);
  const previous = since.previous_of([...jobs.values()].map((each) => fold.fold_job(each)), job);
  if (!previous) return null;
  const before = new Job(jobs.get(previous.job), ownEntries(entries), limits);
  const round = before.lastJudged();
  return round && {sheet: before.sheet(round), findings: before.findings(round)};
}

function summary(id, vehicle) {
  const {record, jobs} = vehicle;
  const judged = vehicle.unsealed.findLast((job) => job.lastJudged());
  const open = jobs.filter(({state}) => state === 'open' || state === 'sent_back');
  return {
    id, name: record.name ?? 'Vehicle without a name', tags: record.tags, retired: record.retired ?? false,
    interval: judged ? fromFindings(judged.findings(judged.lastJudged())) : null,
    open: open.map(({job, about, state}) => ({job, about, state})), pending: jobs.filter(({state}) => state === 'pending').length,
  };
}

/** Brings the summary rows of touched vehicles up to date; true when there were any. */
export async function refreshSummaries(store) {
  const touched = await store.touched();
  if (!touched.length) return false;
  const limits = await limitsOf(store);
  const rows = [];
  for (const id of touched) {
    const entries = await store.entriesOf({vehicle: id});
    if (entries.length) rows.push(summary(id, new Vehicle(entries, limits)));
    else rows.push({id, name: '', tags: [], retired: true, interval: null, open: [], pending: 0});
  }
  await store.putVehicles(rows);
  return true;
}

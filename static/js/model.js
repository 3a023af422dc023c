/** What the store holds, folded for the screens by the arithmetic that the shop uses too. */

import {
  due,
  fold,
  hold_points as holdPoints,
  job_view as jobView,
  limits as houseLimits,
  my_day as myDay,
  record_of_job as recordOfJob,
  stale,
  tags,
} from './reckon.js';
import { fromFindings } from './figures/interval.js';
import { inOrder } from './store/records.js';
import { madeAt } from './store/entries.js';

function grouped(entries) {
  const jobs = new Map();
  for (const entry of entries) {
    if (!entry.job) continue;
    if (!jobs.has(entry.job)) jobs.set(entry.job, []);
    jobs.get(entry.job).push(entry);
  }
  for (const each of jobs.values()) each.sort(inOrder);
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
  const underWay = jobs.filter(({ state, second_of: first }) => first && fold.is_open(state));
  return new Set(underWay.map(({ second_of: first }) => first));
}

/** Of jobs, each its entries, those that were handed in, as {entries, job}. */
function handedIn(jobs) {
  return jobs.filter((each) => each.some(({ kind }) => kind === 'hand_in'))
    .map((entries) => ({ entries, job: fold.fold_job(entries) }));
}

/** What is made, or null where that goes wrong: one job or vehicle stands in no other's way. */
function orNull(make) {
  try {
    return make();
  } catch (error) {
    console.error(error);
    return null;
  }
}

function ownEntries(entries) {
  return entries.filter(({ job }) => !job);
}

/** Every entry of a vehicle, those that stand under the ids of vehicles merged into it first. */
async function entriesOfVehicle(store, id, merged) {
  const parts = await Promise.all(
    tags.family(id, merged).map((part) => store.entriesOf({ vehicle: part })),
  );
  return parts.flat();
}

const CLOSINGS = ['close_item', 'strike'];
const TAG_KINDS = ['tag', 'vehicle', 'strike'];

/** What changes whenever entries that bear on tags came or found their place in the log. */
async function tagState(store) {
  const counts = await Promise.all(TAG_KINDS.map((kind) => store.countOf({ kind })));
  return [...counts, await store.fact('cursor')].join();
}

/**
 * Where tags lead and which vehicles are one, {leads, merged}, as the entries on this phone have
 * it.
 */
async function followTags(store) {
  const kinds = await Promise.all(TAG_KINDS.map((kind) => store.entriesOf({ kind })));
  const bears = ({ kind, job, body }) =>
    kind === 'tag' || (kind === 'strike' ? !job : body.merged_into !== undefined);
  return tags.follow(kinds.flat().filter(bears).sort(inOrder));
}

/** What finds the house limits of a folded job: those of its hand-in, today's until then. */
export async function limitsOf(store) {
  const entries = await store.entriesOf({ kind: 'limit' });
  const today = madeAt().slice(0, 10);
  return (job) => houseLimits.limits_at(entries, job, today);
}

/** One job of a vehicle: its fold, and sheet and findings of each round when asked for. */
export class Job {
  /**
   * `others` are jobs of the vehicle that were handed in, each {entries, job}: what they left
   * behind counts.
   *
   * @param {any[]} entries
   * @param {any[]} vehicleEntries
   * @param {(job: any) => any} limitsAt finds the limits of a folded job
   * @param {any[]} others
   */
  constructor(entries, vehicleEntries, limitsAt, others) {
    this.entries = entries;
    this.vehicleEntries = vehicleEntries;
    this.limitsAt = limitsAt;
    this.others = others;
    const folded = fold.fold_job(entries);
    this.accepted = folded.accepted;
    this.later = folded.later;
    // Once a job is accepted, its figures stay what they were.
    this.counted = fold.as_accepted(entries, folded.accepted);
    this.limits = limitsAt(folded);
    this.job = folded.job;
    this.vehicle = folded.vehicle;
    this.axle = folded.axle;
    this.rounds = folded.rounds;
    this.state = folded.state;
    this.about = folded.about;
    this.scope = folded.scope;
    this.second_of = folded.second_of;
    this.opened = folded.opened;
    this.hand_in = folded.hand_in;
    this.decision = folded.decision;
    // Whether its readings are hidden until a second reading of it is handed in.
    this.sealed = false;
    // All jobs of the vehicle in the order in which they were opened, worked out when asked for.
    this.siblings = () => [];
    this.record = recordOfJob.record_of_job(vehicleEntries, others, folded, this.limits);
    this.view = jobView.job_view(this.counted, folded, this.record, this.limits);
    this.units = this.view.unit;
    this.since = new Map();
  }

  /** This job with more entries, as it will be once they are kept. */
  with(entries) {
    const then = new Job(
      [...this.entries, ...entries],
      this.vehicleEntries,
      this.limitsAt,
      this.others,
    );
    then.siblings = this.siblings;
    return then;
  }

  /** What stands recorded in a round. */
  sheet(round) {
    return jobView.sheet_in(this.view, round);
  }

  /** What changes have overtaken in a round, as `change_words.stale_sentence` says it. */
  stale(round) {
    return jobView.stale_in(this.view, round);
  }

  /** Whether a change that reopened a step came after this entry, which stands. */
  isOvertaken({ id }, step) {
    if (!this.since.has(step)) {
      this.since.set(
        step,
        new Set(stale.since_change(fold.standing(this.entries), step).map((entry) => entry.id)),
      );
    }
    return !this.since.get(step).has(id);
  }

  /** What the vehicle stood on and what was ticked in the round before one; null where none was. */
  readyBefore(round) {
    const earlier = holdPoints.earlier_jobs(this.siblings(), this)
      .filter(({ state }) => !fold.is_open(state))
      .map((each) => each.sheet(each.rounds.at(-1)));
    const at = fold.ROUNDS.indexOf(round);
    const own = this.rounds.filter((each) => fold.ROUNDS.indexOf(each) < at)
      .map((each) => this.sheet(each));
    return [...earlier, ...own].findLast(({ standing }) => standing) ?? null;
  }

  /** The rounds of the job as hold points are worked out from them. */
  get roundsFound() {
    return jobView.rounds_found(this.view);
  }

  /** The rounds of the job as it is worked out from them what it left open. */
  get roundsLeft() {
    return jobView.rounds_left(this.view);
  }

  /** What the jobs before this one leave it to begin with. */
  get past() {
    return {
      jobs: holdPoints.earlier_jobs(this.siblings(), this).map((each) => ({
        state: each.state,
        entries: each.counted,
        rounds: each.roundsLeft,
      })),
      closings: this.vehicleEntries.filter(({ kind }) => CLOSINGS.includes(kind)),
      filed: this.record.left_open?.[this.axle] ?? [],
    };
  }

  /**
   * The hold points of the job's axle, with what is open, what a lead closed and who passed them
   * over.
   */
  holdPoints() {
    return holdPoints.hold_points(this.counted, this.roundsFound, this.past);
  }

  /** The same as the job leaves them, for screens that show many jobs. */
  holdPointsLeft() {
    return holdPoints.hold_points(this.counted, this.roundsLeft, this.past);
  }

  /** What the arithmetic says of a round. */
  findings(round) {
    return jobView.findings_in(this.view, round);
  }

  /** The last round in which the axle was judged, or null. */
  lastJudged() {
    return jobView.last_judged(this.view);
  }
}

/** A vehicle with its record and its jobs, oldest first; `entries` are all of the vehicle's. */
export class Vehicle {
  constructor(entries, limitsAt) {
    this.entries = entries;
    const own = ownEntries(entries);
    this.record = fold.fold_vehicle(own);
    const jobs = [...grouped(entries).values()];
    const others = handedIn(jobs);
    const made = jobs.map((each) => orNull(() => new Job(each, own, limitsAt, others)));
    // How many jobs cannot be shown.
    this.failed = made.filter((job) => job === null).length;
    this.jobs = made.filter((job) => job?.opened);
    const sealed = sealedAmong(this.jobs);
    for (const job of this.jobs) {
      job.sealed = sealed.has(job.job);
      job.siblings = () => this.inTurn;
    }
  }

  /** The jobs whose readings may be seen, in the order in which they were opened. */
  get inTurn() {
    return this.unsealed.toSorted((one, other) => inOrder(one.opened, other.opened));
  }

  /** What stands open of each axle, {axle, job, points}, as its last job leaves it. */
  openPoints() {
    const last = new Map();
    for (const job of this.inTurn) if (!job.second_of) last.set(job.axle, job);
    return [...last].map(([axle, job]) => ({
      axle,
      job,
      points: job.holdPointsLeft().filter(({ state }) => state === 'open'),
    })).filter(({ points }) => points.length > 0);
  }

  /** The jobs whose readings may be seen. */
  get unsealed() {
    return this.jobs.filter(({ sealed }) => !sealed);
  }

  /** Points of the history figure, newest first; jobs sent back or still open are part of it. */
  history(most = 12) {
    const points = this.unsealed.flatMap((job) =>
      job.rounds
        .filter((round) => jobView.is_judged(job.view, round))
        .map((round) => ({ ...fromFindings(job.findings(round)), round, at: dayOf(job, round) }))
    );
    return points.reverse().slice(0, most);
  }
}

function dayOf(job, round) {
  const made =
    job.entries.find((entry) => entry.round === round && entry.kind === 'reading')?.made_at ??
      job.opened.made_at;
  return made.slice(0, 10);
}

/** The vehicle with this id, or null when this phone holds nothing of it. */
export async function loadVehicle(store, id) {
  const { merged = {}, leads = {} } = await store.facts();
  const entries = await entriesOfVehicle(store, id, merged);
  if (!entries.length) return null;
  const vehicle = new Vehicle(entries, await limitsOf(store));
  vehicle.record.tags = tagsOf(merged[id] ?? id, leads);
  return vehicle;
}

/**
 * The job with this id and its vehicle's entries, or null; throws Sealed while it is measured
 * again.
 */
export async function loadJob(store, id) {
  const [first] = await store.entriesOf({ job: id });
  if (!first) return null;
  const entries = await entriesOfVehicle(store, first.vehicle, await store.fact('merged') ?? {});
  const jobs = grouped(entries);
  const others = [...jobs.values()].filter((each) =>
    each.some(({ kind, body }) => kind === 'job' && body.second_of === id)
  );
  if (sealedAmong(others.map((each) => fold.fold_job(each))).has(id)) {
    throw new Sealed(fold.fold_job(jobs.get(id)));
  }
  const limitsAt = await limitsOf(store);
  const job = new Job(
    jobs.get(id),
    ownEntries(entries),
    limitsAt,
    handedIn([...jobs.values()]),
  );
  job.siblings = () => new Vehicle(entries, limitsAt).inTurn;
  return job;
}

function tagsOf(id, leads) {
  return Object.keys(leads).filter((code) => leads[code] === id);
}

// Raised with every change of the fields of a summary row.
const ROW_FIELDS = 2;

function summary(id, vehicle, leads) {
  const { record, jobs } = vehicle;
  const judged = vehicle.unsealed.findLast((job) => job.lastJudged());
  const round = judged?.lastJudged();
  return {
    id,
    name: record.name ?? 'Vehicle without a name',
    tags: tagsOf(id, leads),
    retired: record.retired ?? false,
    units: record.units ?? 'mm',
    interval: judged ? fromFindings(judged.findings(round)) : null,
    measured: judged ? { at: dayOf(judged, round), round } : null,
    jobs: myDay.job_lines(jobs),
    due: due.due_of(ownEntries(vehicle.entries)),
  };
}

/** The keys under which two objects differ, and the values there: ids of vehicles and tag codes. */
function differing(before, after) {
  const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])].filter((key) =>
    before[key] !== after[key]
  );
  return keys.flatMap((key) => [key, before[key], after[key]]).filter(Boolean);
}

/**
 * Brings the facts about tags up to date, and notes which vehicles gained or lost a tag or a part.
 */
async function refreshTags(store) {
  const { leads: before = {}, merged: mergedBefore = {}, tag_state: known } = await store.facts();
  const state = await tagState(store);
  // A reading that was just kept moves no tag, and must not wait for all of them.
  if (state === known) return;
  const { leads, merged } = await followTags(store);
  const moved = differing(before, leads).filter((each) => !(each in leads || each in before));
  await store.setFacts({ leads, merged, tag_state: state }, [
    ...moved,
    ...differing(mergedBefore, merged),
  ]);
}

function gone(id) {
  return { id, name: '', tags: [], retired: true, interval: null, jobs: [], due: [] };
}

function notShown(id, leads) {
  const name = 'Vehicle that cannot be shown';
  return { ...gone(id), name, tags: tagsOf(id, leads), retired: false };
}

/** Makes every summary row anew where the app that was here before made them with other fields. */
export async function renewRows(store) {
  if (await store.fact('row_fields') === ROW_FIELDS) return;
  await store.setFacts({}, (await store.vehicles()).map(({ id }) => id));
  await refreshSummaries(store);
  // Noted last: an app that is ended before begins again.
  await store.setFact('row_fields', ROW_FIELDS);
}

/** Brings the summary rows of touched vehicles up to date; true when there were any. */
export async function refreshSummaries(store) {
  if (!(await store.touched()).length) return false;
  await refreshTags(store);
  const behind = await store.touched();
  const limitsAt = await limitsOf(store);
  const { leads = {}, merged = {} } = await store.facts();
  const rows = [];
  for (const id of new Set([...behind, ...behind.map((each) => merged[each] ?? each)])) {
    const entries = merged[id] ? [] : await entriesOfVehicle(store, id, merged);
    const row = entries.length
      ? orNull(() => summary(id, new Vehicle(entries, limitsAt), leads)) ?? notShown(id, leads)
      : gone(id);
    rows.push(row);
  }
  await store.putVehicles(rows);
  return true;
}

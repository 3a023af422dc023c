/**
 * Entries that stand in for one another by more than their field: a joint's, a place's, a
 * fastener's.
 */

import { fold } from '../../reckon.js';

/** What makes two entries of a step the same reading or choice. */
const SAME = {
  play: (body) => `${body.field}|${body.joint ?? body.value.joint}`,
  clearance: (body) =>
    `${(body.between ?? body.value.between).join('|')}|${body.state ?? body.field}|${body.lock}`,
  // That a bolt moved stays on the log beside the torque that it then got.
  torque: (body) => `${body.field}|${body.fastener ?? ''}|${body.moved === undefined}`,
};

/** The standing entry of a round that says what `body` would say anew, or null. */
export function likeBefore(job, round, kind, body) {
  const same = SAME[body.step];
  const isLike = (entry) =>
    entry.kind === kind && entry.round === round && entry.body.step === body.step &&
    same(entry.body) === same(body);
  return fold.standing(job.entries).findLast(isLike) ?? null;
}

/** An entry about a job in place of the one that stands for the same thing. */
export function replacingLike(job, round, kind, body, typed = null) {
  return inPlaceOf(likeBefore(job, round, kind, body), job, round, kind, body, typed);
}

/** An entry about a job in place of the entry `before`, where there is one. */
export function inPlaceOf(before, job, round, kind, body, typed) {
  return {
    kind,
    vehicle: job.vehicle,
    job: job.job,
    round,
    typed,
    body: before ? { ...body, replaces: before.id } : body,
  };
}

/** The offer to take back what was just kept: it lasts ten seconds, and moves nothing. */

import { h } from '../dom.js';

const OFFERED_MS = 10000;
// What a strike takes back whole: a job that was opened or a strike is none of it.
const UNDOABLE = new Set([
  'reading',
  'pick',
  'tick',
  'confirm',
  'change',
  'note',
  'photo',
  'plan',
  'hand_in',
]);

export class Undo {
  constructor(app) {
    this.app = app;
    this.element = h('div', { class: 'undo' });
  }

  /** Offers to undo what was kept, in place of what was offered before; else offers nothing. */
  offer(kept) {
    clearTimeout(this.timer);
    this.element.replaceChildren();
    if (!kept.every(({ job, kind }) => job && UNDOABLE.has(kind))) return;
    const from = { hash: location.hash, local: { ...this.app.local } };
    this.element.append(
      h('button', { type: 'button', onclick: () => this.#undo(kept, from) }, 'Undo'),
    );
    this.timer = setTimeout(() => this.element.replaceChildren(), OFFERED_MS);
  }

  /** Strikes what was kept, and shows the field where it was entered once more. */
  async #undo(kept, { hash, local }) {
    await this.app.keep(kept.map(({ id, vehicle, job, round }) => ({
      kind: 'strike',
      vehicle,
      job,
      round,
      body: { target: id, reason: 'Undone right away' },
    })));
    if (location.hash === hash) this.app.local = local;
    await this.app.redraw();
  }
}

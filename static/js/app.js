/** The phone app: opens the store, meets the shop, and shows the screen that the address names. */

import { alarm, head, notice, StateLine } from './parts/frame.js';
import { BUILD, makeEntry } from './store/entries.js';
import { faultOf } from './store/contract.js';
import { inIosTab, Install, TAB_SAYS } from './parts/device/install.js';
import { lastScreen, noteScreen } from './parts/device/last_screen.js';
import { ReadBack } from './parts/device/speech.js';
import { Wake } from './parts/device/wake_lock.js';
import { showPlace } from './parts/measure/step.js';
import { h } from './dom.js';
import { open as openStore } from './store/store.js';
import { pair } from './sync/pairing.js';
import { startShop } from './sync/schedule.js';
import { emptiedWords, remember, remembered, showBroken } from './screens/broken.js';
import { tellClock, tellParted } from './parts/shop/connection.js';
import { tellMissing } from './parts/shop/missing_entries.js';
import { Undo } from './parts/undo.js';
import { keepOpen } from './parts/keep_open.js';
import { markWords, tellWords, watchWords } from './parts/glossary.js';
import { refreshSummaries, renewRows } from './model.js';
import { fold } from './reckon.js';
import { startWorker } from './worker.js';
import * as home from './screens/home.js';
import * as vehicle from './screens/vehicle.js';
import * as job from './screens/job.js';
import * as heights from './screens/heights.js';
import * as centering from './screens/centering.js';
import * as trackBar from './screens/track_bar.js';
import * as dragLink from './screens/drag_link.js';
import * as change from './screens/change.js';
import * as play from './screens/play.js';
import * as clearance from './screens/clearance.js';
import * as torque from './screens/torque.js';
import * as handIn from './screens/hand_in.js';
import * as unsent from './screens/unsent.js';
import * as sealed from './screens/sealed.js';
import * as pairScreen from './screens/pair.js';
import * as travel from './screens/travel.js';
import * as install from './screens/install.js';
import * as photo from './screens/photo.js';
import * as scan from './screens/scan.js';
import * as tag from './screens/tag.js';
import * as glossary from './screens/glossary.js';

/** The screens of a job by their step; a step of the walk is one line here and one in its steps. */
const JOB_SCREENS = {
  heights,
  centering,
  track_bar: trackBar,
  drag_link: dragLink,
  play,
  clearance,
  torque,
  change,
  travel,
  photo,
  hand_in: handIn,
};

/**
 * Address patterns, their screens and the names of what the address holds.
 *
 * @type {[RegExp, {show: (app: App, params: any) => Promise<any>}, string[]][]}
 */
const SCREENS = [
  [/^#?\/?$/, home, []],
  [/^#\/unsent$/, unsent, []],
  [/^#\/pair$/, pairScreen, []],
  [/^#pair=(.+)$/, pairScreen, ['code']],
  [/^#\/vehicle\/([^/]+)$/, vehicle, ['id']],
  [/^#\/job\/([^/]+)\/([^/]+)$/, job, ['id', 'round']],
  [/^#\/scan$/, scan, []],
  [/^#\/install$/, install, []],
  [/^#\/tag\/([^/]+)$/, tag, ['code']],
  [/^#\/glossary$/, glossary, []],
];
for (const [step, screen] of Object.entries(JOB_SCREENS)) {
  SCREENS.push([new RegExp(`^#/job/([^/]+)/([^/]+)/${step}$`), screen, ['id', 'round']]);
}

/** Addresses of screens that take something in. */
const TAKES_IN = /^#(pair=|\/pair$|\/tag\/|\/scan$|\/job\/[^/]+\/[^/]+\/(?!travel$))/;

const UNPAIRED = 'This phone is not paired with a shop, so nothing can be recorded. Pair it first.';

/** Settles once what was drawn is on the screen, or after a second where nobody looks at it. */
function painted() {
  return new Promise((resolve) => {
    requestAnimationFrame(() => setTimeout(resolve));
    setTimeout(resolve, 1000);
  });
}

class App {
  constructor(root) {
    this.root = root;
    this.alarms = h('div', { class: 'alarms' });
    this.bands = h('div', {});
    this.main = h('main', { tabindex: '-1' });
    this.headSlot = h('div', {});
    this.stateLine = new StateLine(() => this.go('#/unsent'));
    this.shop = { nudge() {}, state: () => ({ heard: null, trouble: null, says: '' }) };
    this.drawings = 0;
    this.wake = new Wake();
    this.install = new Install(this);
    this.flip = false;
    this.readBack = null;
    this.keeping = null;
    this.emptied = null;
    this.counts = null;
    this.clockBand = null;
    this.heard = null;
    this.shownPhotos = new Set();
    this.undo = new Undo(this);
  }

  /** Shows the frame and the first screen; whatever fails is said in words, never left blank. */
  async start() {
    this.root.replaceChildren(
      this.headSlot,
      this.stateLine.element,
      this.alarms,
      this.bands,
      this.main,
      this.undo.element,
    );
    try {
      this.store = await openStore();
      await renewRows(this.store);
    } catch (error) {
      return showBroken(this, error);
    }
    this.#watchFinger();
    watchWords(this.main);
    this.store.onChange((what) => this.#changed(what));
    addEventListener('hashchange', () => this.show());
    setInterval(() => this.#showState(), 15000);
    await this.#enter();
    startWorker({ onUpdate: (update) => this.#update(update) }).then((worker) => {
      this.worker = worker;
    });
  }

  /** Why nothing is taken in here, if that is so. */
  get refuses() {
    return inIosTab() ? TAB_SAYS : this.unkept;
  }

  /** Takes up what the facts of the store say about this phone and its switches. */
  know({ flip = false, read_back = false, phone = null, heard = null }) {
    this.flip = flip;
    this.phone = phone;
    this.heard = heard;
    this.readBack ??= new ReadBack(this.store, read_back);
  }

  /**
   * Pairs where the address carries a code, shows the first screen or that of a scanned tag, then
   * meets the shop.
   */
  async #enter() {
    const code = /^#pair=(.+)$/.exec(location.hash)?.[1];
    // A code is good once: it is kept for the app on the home screen.
    if (code && inIosTab()) history.replaceState(null, '', '/app#/install');
    else if (code) await this.#pair(decodeURIComponent(code));
    const held = remembered();
    if (held?.onPhoneOnly && !await this.store.fact('phone')) this.#tellEmptied(held);
    const tag = /^\/t\/([^/]+)$/.exec(location.pathname)?.[1];
    // What is on this phone does not wait for anybody.
    const left = location.hash || tag ? null : lastScreen();
    if (left) history.replaceState(null, '', `/app${left}`);
    await (tag ? this.openTag(decodeURIComponent(tag).toUpperCase()) : this.show());
    await painted();
    this.#showState();
    this.shop = startShop(this.store, {
      onState: () => this.#showState(),
      shown: this.shownPhotos,
    });
    // Entries may have come in just before the app was ended.
    if (await refreshSummaries(this.store)) await this.refresh();
  }

  async #pair(code) {
    history.replaceState(null, '', '/app#/');
    try {
      await pair(this.store, code);
    } catch (error) {
      this.alarm(error.says ?? String(error));
    }
  }

  /** Opens the vehicle that a tag leads to, from this phone's replica, else the making of one. */
  async openTag(code) {
    await refreshSummaries(this.store);
    const row = await this.store.vehicleByTag(code);
    this.scanned = code;
    if (row) return this.go(`#/vehicle/${row.id}`, { replace: true });
    this.wanted = code;
    return this.go(`#/tag/${code}`, { replace: true });
  }

  /** Goes to a screen. */
  go(hash, { replace = false } = {}) {
    const target = `/app${hash}`;
    if (location.pathname + location.hash !== target) {
      history[replace ? 'replaceState' : 'pushState'](null, '', target);
    }
    return this.show();
  }

  /** Draws the screen that the address names, from its top. */
  async show() {
    this.local = {};
    if (!await this.#draw()) return;
    scrollTo(0, 0);
    this.#showReading();
    if (document.activeElement === document.body) this.main.focus({ preventScroll: true });
  }

  /** Draws the same screen with something of its own state changed; the address stays. */
  async redraw(change = {}) {
    Object.assign(this.local, change);
    if (!await this.#draw()) return;
    scrollTo(0, ['phase', 'side', 'field'].some((name) => name in change) ? 0 : this.from);
    // Whoever is picking a face and a method stays at them.
    if (!change.settings) this.#showReading();
  }

  // What is being entered stays in sight above the pad.
  #showReading() {
    this.main.querySelector('.now')?.scrollIntoView({ block: 'nearest' });
  }

  /** Brings what is shown up to date without disturbing who types or has a finger on it. */
  async refresh() {
    this.due = this.pressing || Boolean(this.view?.busy?.());
    if (this.due) return;
    if (this.view?.refresh) return this.view.refresh();
    if (await this.#draw({ quiet: true })) scrollTo(0, this.from);
  }

  #watchFinger() {
    const up = () => {
      this.pressing = false;
      // After the click that the finger makes.
      if (this.due) setTimeout(() => this.refresh(), 50);
    };
    this.root.addEventListener('pointerdown', () => {
      this.pressing = true;
    });
    for (const kind of ['pointerup', 'pointercancel']) addEventListener(kind, up);
  }

  /**
   * True once drawn; false when another screen was asked for, or the person began to type,
   * meanwhile.
   */
  async #draw({ quiet = false } = {}) {
    const turn = ++this.drawings;
    const [pattern, asked, names] = SCREENS.find(([each]) => each.test(location.hash)) ??
      SCREENS[0];
    const values = pattern.exec(location.hash)?.slice(1) ?? [];
    const params = Object.fromEntries(
      names.map((name, index) => [name, decodeURIComponent(values[index])]),
    );
    const screen = this.refuses && TAKES_IN.test(location.hash) ? install : asked;
    const view = await this.#viewOf(screen, params);
    const typing = () => quiet && (this.pressing || this.view?.busy?.());
    if (turn !== this.drawings || typing()) {
      view.leave?.();
      this.due ||= turn === this.drawings;
      return false;
    }
    this.#lay(view, location.hash);
    return true;
  }

  // What was read before a save began would show the box just ticked as not checked.
  async #viewOf(screen, params) {
    // The list of vehicles, opened more often than anything, reads the facts with its rows.
    if (screen !== home && !this.readBack) this.know(await this.store.facts());
    for (;;) {
      const { keeping } = this;
      const view = await screen.show(this, { ...params, ...this.local }).catch((error) =>
        sealed.instead(this, error)
      );
      if (keeping === this.keeping) return view;
      view.leave?.();
      await this.keeping.catch(() => {});
    }
  }

  #lay(view, at) {
    // Where somebody has scrolled to while this was being read.
    this.from = scrollY;
    this.view?.leave?.();
    const restore = at === this.at ? keepOpen(this.main) : () => {};
    this.view = view;
    this.at = at;
    this.wake.want(Boolean(view.measuring || view.lit));
    document.title = `${view.title} \u00b7 Axlewright`;
    this.headSlot.replaceChildren(head(view, () => tellWords(this.main)));
    this.main.classList.toggle('measuring', Boolean(view.measuring));
    this.main.classList.remove('foreseeing');
    this.main.replaceChildren(...view.parts.flat(Infinity).filter(Boolean));
    markWords(this.main);
    showPlace(this.main);
    restore();
    view.focus?.focus({ preventScroll: true });
    this.install.consider(at);
    noteScreen(at);
  }

  /**
   * Keeps entries on this phone; rejects, with the alarm shown, when they are not kept. Meanwhile
   * `foresee(entries)` may give an answer, shown in the place of the screen until that is drawn
   * anew.
   *
   * @param {any[]} specs
   * @param {{foresee?: (entries: any[]) => any, dropDraft?: string | string[],
   *   photos?: any[]}} [options]
   */
  async keep(specs, { foresee = () => null, ...options } = {}) {
    this.phone ??= await this.store.fact('phone');
    const made = specs.map((spec) => makeEntry(spec, { phone: this.phone?.id, build: BUILD }));
    try {
      const refusal = this.refuses ?? this.emptied ??
        (this.phone ? made.map(faultOf).find(Boolean) : UNPAIRED);
      if (refusal) throw Object.assign(new Error(refusal), { says: refusal });
      this.keeping = this.store.keep(made, options);
      this.#foresee(foresee(made));
      const kept = await this.keeping;
      navigator.vibrate?.(30);
      this.undo.offer(kept);
      this.shop.nudge();
      this.readBack.tell(kept);
      this.install.kept(kept);
      if (!this.asked) this.#askToPersist();
      return kept;
    } catch (error) {
      this.#foresee(null);
      this.alarm(`NOT SAVED. ${error.says ?? error}`);
      this.refresh();
      throw error;
    }
  }

  // The screen stays beneath, with what was typed, should the entries not be kept after all.
  #foresee(answer) {
    this.main.querySelector('.foreseen')?.remove();
    this.main.classList.toggle('foreseeing', Boolean(answer));
    if (!answer) return;
    const shown = h(
      'div',
      { class: 'foreseen' },
      answer,
      h('p', { class: 'soft' }, 'Saving on this phone.'),
    );
    const places = this.main.querySelector('.places-frame');
    if (places) places.after(shown);
    else this.main.prepend(shown);
    scrollTo(0, 0);
  }

  /** Has the photos of these hashes fetched, which a screen would show. */
  wantPhotos(names) {
    const fresh = names.filter((name) => !this.shownPhotos.has(name));
    for (const name of fresh) this.shownPhotos.add(name);
    if (fresh.length) this.shop.nudge();
  }

  /** Turns drawings, columns and words for someone who faces the other way. */
  async turn() {
    this.flip = !this.flip;
    await this.store.setFact('flip', this.flip);
    await this.redraw();
  }

  /** Crosses an entry of a job out, with a reason. */
  strike(job, entry, reason, round = entry.round) {
    return this.keep([{
      kind: 'strike',
      vehicle: job.vehicle,
      job: job.job,
      round,
      body: { target: entry.id, reason },
    }]);
  }

  /** Brings a struck entry back by striking what struck it. */
  bringBack(job, entry) {
    const strike = fold.standing(job.entries).findLast((each) =>
      each.kind === 'strike' && each.body.target === entry.id
    );
    return strike && this.strike(job, strike, 'Strike undone', entry.round);
  }

  #askToPersist() {
    this.asked = true;
    this.store.persist().catch(() => {});
  }

  /**
   * A red band that cannot be missed, and stays until somebody closes it; said once more it is no
   * second one.
   */
  alarm(says) {
    const band = alarm(says, () => band.remove());
    [...this.alarms.children].find(({ firstChild }) => firstChild.textContent === says)?.remove();
    this.alarms.append(band);
  }

  async #changed(what) {
    if (what === 'yield') return this.#yielded();
    if (what === 'emptied') {
      this.#tellEmptied(this.counts ?? remembered());
      return this.refresh();
    }
    if (what === 'facts') this.#readPhone();
    await this.#showState();
    if (what === 'facts') {
      await tellMissing(this);
      await tellClock(this);
      return tellParted(this);
    }
    if (what !== 'entries') return;
    if (await refreshSummaries(this.store)) await this.#foundWanted();
    await this.refresh();
  }

  // Known before anything is kept, so that no answer waits for it.
  #readPhone() {
    this.phone = null;
    this.store.fact('phone').then((phone) => {
      this.phone = phone;
      if (phone) this.emptied = null;
    }, () => {});
  }

  // What was deleted cannot be brought back, but it must not look as if it had never been.
  #tellEmptied(counts) {
    this.phone = null;
    this.emptied = emptiedWords(counts);
    this.alarm(this.emptied);
  }

  async #foundWanted() {
    if (this.wanted && !this.view?.busy?.() && await this.store.vehicleByTag(this.wanted)) {
      const code = this.wanted;
      this.wanted = null;
      await this.openTag(code);
    }
  }

  #yielded() {
    this.#tell(
      'A newer version of the app needs this tab to be reloaded. Everything saved stays saved.',
      'Reload',
      () => location.reload(),
    );
  }

  // In place of what was told of builds before; other bands stay.
  #tell(...what) {
    this.buildNotice?.remove();
    this.buildNotice = notice(...what);
    this.bands.append(this.buildNotice);
  }

  #update({ state, says }) {
    if (state === 'none') this.#unkept(says);
    else if (state === 'ready') this.#tell(says, 'Update now', () => this.#changeOver());
    else if (state !== 'first') this.#tell(says);
  }

  // Only a demo comes without a certificate, and it may be tried all the same.
  #unkept(says) {
    if (location.protocol === 'http:') return this.#tell(says);
    this.unkept = `${says} Until it can, nothing can be recorded.`;
    this.#tell(this.unkept, 'What to do', () => this.go('#/install'));
    return this.show();
  }

  /** Changes over to the build that is ready, but never under something half typed. */
  #changeOver() {
    const field = /** @type {HTMLInputElement} */ (document.activeElement);
    const typing = this.main.querySelector('.pad-figure')?.value ||
      (field.matches('input, textarea') && field.type !== 'checkbox' && field.value);
    if (!typing && !this.view?.busy?.()) return this.worker?.apply();
    return this.#update({
      state: 'ready',
      says: 'There is unsaved input. Save it or clear it, then update.',
    });
  }

  async #showState() {
    try {
      const counts = await this.store.counts();
      remember(counts);
      this.counts = counts;
      const shop = this.shop.state();
      // Known from the last time the app was open, before it meets the shop again.
      this.stateLine.show(counts, { ...shop, heard: shop.heard ?? this.heard });
    } catch (error) {
      this.stateLine.show({ onPhoneOnly: 0, photos: 0, oldest: null, needYou: 0 }, {
        heard: null,
        trouble: 'store',
        says: error.says ?? '',
      });
    }
  }
}

new App(document.getElementById('app')).start();

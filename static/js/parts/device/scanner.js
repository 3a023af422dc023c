/**
 * The camera held on a tag: finds the code in its picture, and starts again when the camera stops.
 */

import { h } from '../../dom.js';

// How often a picture is looked at, how long a shop that gave no answer is left alone, and how long
// the camera may show nothing new.
const LOOK_MS = 150;
const REST_MS = 2000;
const WATCH_MS = 3000;
const MOST_REJECTS = 5;

/** The browser's own reader of QR codes, or null: some have the detector, and no format in it. */
async function ownReader() {
  if (!('BarcodeDetector' in globalThis)) return null;
  const formats = await BarcodeDetector.getSupportedFormats().catch(() => []);
  return formats.includes('qr_code') ? new BarcodeDetector({ formats: ['qr_code'] }) : null;
}

/** What can read a tag here, the first choice first: the browser, then the `shop`'s reader. */
export async function readers(shop) {
  if (!navigator.mediaDevices?.getUserMedia) return [];
  const own = await ownReader();
  return own ? [own, shop] : [shop];
}

export class Scanner {
  #onText;
  #onState;
  #readers;
  #leave = new AbortController();
  #stream = null;
  #starting = false;
  #rejects = 0;
  #moved = 0;
  #at = null;
  #fresh = false;
  #reading = false;
  #away = false;
  #restUntil = 0;

  /**
   * `readers` are tried in turn, the next one where one fails again and again. `onText(text)` hears
   * each code seen; `onState(state)` hears 'looking', 'dark', 'refused', 'away' where the shop that
   * should read gives no answer, or 'blind'.
   */
  constructor(readers, { onText, onState }) {
    this.#readers = [...readers];
    this.#onText = onText;
    this.#onState = onState;
    this.video = h('video', {
      playsinline: true,
      muted: true,
      class: 'finder-video',
      'aria-label': 'What the camera sees',
    });
    // The attribute alone does not count once the page has run.
    this.video.muted = true;
  }

  /** Turns the camera on, and looks until `stop`. */
  start() {
    const { signal } = this.#leave;
    document.addEventListener(
      'visibilitychange',
      () => (document.visibilityState === 'visible' ? this.#begin() : this.#end()),
      { signal },
    );
    this.timer = setInterval(() => this.#look(), LOOK_MS);
    this.#awaitFrame();
    return this.#begin();
  }

  /** Turns the camera off for good. */
  stop() {
    this.#leave.abort();
    clearInterval(this.timer);
    this.#end();
  }

  async #begin() {
    if (this.#starting || this.#leave.signal.aborted) return;
    this.#starting = true;
    this.#end();
    this.#moved = Date.now();
    try {
      const stream = await navigator.mediaDevices.getUserMedia({
        video: { facingMode: 'environment' },
        audio: false,
      });
      await this.#show(stream);
    } catch (error) {
      this.#onState(error.name === 'NotAllowedError' ? 'refused' : 'dark');
    } finally {
      this.#starting = false;
    }
  }

  async #show(stream) {
    this.#stream = stream;
    if (this.#leave.signal.aborted || document.visibilityState !== 'visible') return this.#end();
    for (const track of stream.getTracks()) track.addEventListener('ended', () => this.#begin());
    this.video.srcObject = stream;
    await this.video.play();
    this.#moved = Date.now();
    return this.#onState('looking');
  }

  #end() {
    for (const track of this.#stream?.getTracks() ?? []) track.stop();
    this.#stream = null;
    this.video.srcObject = null;
  }

  #awaitFrame() {
    this.video.requestVideoFrameCallback?.(() => {
      this.#fresh = true;
      this.#awaitFrame();
    });
  }

  /** Whether there is a picture that was not looked at yet. */
  #isFresh() {
    if (this.video.readyState < 2 || !this.#stream) return false;
    // The time of a stream runs on after its last picture, so it only counts where pictures cannot
    // be counted.
    const fresh = this.video.requestVideoFrameCallback
      ? this.#fresh
      : this.video.currentTime !== this.#at;
    this.#at = this.video.currentTime;
    this.#fresh = false;
    return fresh;
  }

  async #look() {
    if (document.visibilityState !== 'visible' || !this.#readers.length) return;
    if (this.#reading || Date.now() < this.#restUntil) return;
    if (this.#isFresh()) {
      this.#moved = Date.now();
      this.#reading = true;
      await this.#detect();
      this.#reading = false;
      return;
    }
    // A camera that came back black from the background gives no picture and no error.
    if (Date.now() - this.#moved > WATCH_MS) {
      this.#onState('dark');
      await this.#begin();
    }
  }

  async #detect() {
    try {
      const [reader] = this.#readers;
      const [found] = await reader.detect(this.video);
      if (this.#leave.signal.aborted) return;
      this.#rejects = 0;
      this.#restUntil = Date.now() + (reader.restMs ?? 0);
      if (this.#away) this.#onState('looking');
      this.#away = false;
      if (found) this.#onText(found.rawValue);
    } catch (error) {
      if (!this.#leave.signal.aborted) this.#fail(error);
    }
  }

  #fail({ kind }) {
    if (kind === 'unreachable' || kind === 'busy') {
      this.#away = true;
      this.#restUntil = Date.now() + REST_MS;
      this.#onState('away');
      return;
    }
    this.#rejects += 1;
    if (this.#rejects < MOST_REJECTS) return;
    this.#rejects = 0;
    this.#readers.shift();
    if (this.#readers.length) return;
    this.#end();
    this.#onState('blind');
  }
}

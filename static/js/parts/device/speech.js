/** Speaks each reading as it is kept, with the phone's own voice and without the network. */

import { speech } from '../../reckon.js';

/**
 * An English voice on this phone, US English if there is one; null if there is none.
 */
export function ownVoice() {
  const voices =
    globalThis.speechSynthesis?.getVoices().filter((voice) =>
      voice.localService && voice.lang.startsWith('en')
    ) ?? [];
  return voices.find(({ lang }) => lang.replace('_', '-') === 'en-US') ?? voices[0] ?? null;
}

/** Settles as the voice, or null, once the browser has looked for its voices. */
export async function findVoice(patience = 1500) {
  if (!globalThis.speechSynthesis || ownVoice()) return ownVoice();
  await new Promise((resolve) => {
    speechSynthesis.addEventListener('voiceschanged', resolve, { once: true });
    setTimeout(resolve, patience);
  });
  return ownVoice();
}

function say(words) {
  const saying = new SpeechSynthesisUtterance(words);
  saying.voice = ownVoice();
  saying.lang = saying.voice.lang;
  // A new reading matters more than the end of the one before.
  speechSynthesis.cancel();
  speechSynthesis.speak(saying);
}

export class ReadBack {
  #store;

  /** `on` is the switch as it was left. */
  constructor(store, on) {
    this.#store = store;
    this.on = on;
  }

  /** Sets the switch; on is only on where a voice was found, which then says so. */
  async turn(on) {
    this.on = on && await findVoice() !== null;
    if (this.on) say('Readings will be spoken.');
    await this.#store.setFact('read_back', this.on);
    return this.on;
  }

  /** Speaks the readings, and picks that are numbers, among entries that were just kept. */
  async tell(entries) {
    if (!this.on || !ownVoice()) return;
    const row = await this.#store.vehicle(entries[0].vehicle);
    const words = entries.map((entry) =>
      speech.said_of(entry, row?.units ?? entry.body.unit ?? 'mm')
    ).filter(Boolean);
    if (words.length) say(words.join('. '));
  }
}

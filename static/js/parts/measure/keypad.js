/** A pad of large keys for readings that no tape shows: a dial, a caliper, a torque as printed. */

import { joint_terms as jointTerms, typed_answers as typedAnswers } from '../../reckon.js';
import { h } from '../../dom.js';
import { Pad } from './pad.js';

const DIGITS = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '0'];

export class KeyPad extends Pad {
  /**
   * `read(text)` answers as the parsers of the arithmetic do, `said(found)` puts a good answer
   * in words below the figure.
   * `more` are further keys {text, puts, name}; `units` are [name, words] with the
   * chosen one in `unit`, told by `onUnit(name)`.
   * `keeps` are the buttons [words, onKeep(found, typed, confirmed)], the last of them the main
   * one; `askBack(found, typed)` finds what is to be asked first about a value that no vehicle has,
   * or null, and is `confirmed` by who has measured it again.
   *
   * @param {{label: string, read: (text: string, unit?: string) => any,
   *   said?: (found: any) => string, more?: any[], units?: string[][], unit?: string | null,
   *   keeps: any[][], askBack?: (found: any, typed: string) => any, placeholder?: string,
   *   empty?: boolean, onText?: (text: string) => void, onUnit?: (unit: string) => void}} options
   */
  constructor(
    {
      label,
      read,
      said = () => '',
      more = [],
      units = [],
      unit = null,
      keeps,
      askBack = () => null,
      placeholder = '',
      empty = false,
      onText = () => {},
      onUnit = () => {},
    },
  ) {
    super({ onText });
    this.read = read;
    this.askBack = askBack;
    this.said = said;
    this.units = units;
    this.unit = unit;
    this.empty = empty;
    this.onUnit = onUnit;
    this.input.setAttribute('aria-label', label);
    this.input.setAttribute('placeholder', placeholder);
    this.live = h('p', { class: 'pad-live', 'aria-live': 'polite' });
    this.keeps = keeps.map(([words, onKeep], index) =>
      this.#keepButton(words, onKeep, index === keeps.length - 1)
    );
    this.unitButton = h('button', {
      type: 'button',
      class: 'alt wide',
      onclick: () => this.#otherUnit(),
    });
    this.element = this.#build(more);
    this.draw();
  }

  #build(more) {
    const key = (digit) => this.#key({ text: digit, puts: digit });
    return h(
      'form',
      {
        class: 'pad',
        novalidate: true,
        onsubmit: (event) => {
          event.preventDefault();
          this.keeps.at(-1).click();
        },
      },
      this.says,
      h('div', { class: 'pad-line' }, this.input),
      this.live,
      h(
        'div',
        { class: 'keys' },
        DIGITS.slice(0, 5).map(key),
        h('button', {
          type: 'button',
          class: 'key',
          'aria-label': 'Backspace',
          onclick: () => this.#rubOut(),
        }, '\u232b'),
        DIGITS.slice(5).map(key),
        this.#key({ text: '.', puts: '.', name: 'Point' }),
        more.map((each) => this.#key(each)),
        this.units.length > 0 && this.unitButton,
        h('button', {
          type: 'button',
          class: this.units.length ? 'alt wide' : 'alt',
          onclick: () => this.type(),
        }, 'abc'),
      ),
      h('div', { class: 'row-buttons pad-keeps' }, this.keeps),
    );
  }

  #key({ text, puts, name = null, wide = false }) {
    const kind = text.length > 1 ? 'alt' : 'key';
    return h('button', {
      type: 'button',
      class: wide ? `${kind} wide` : kind,
      'aria-label': name,
      onclick: () => this.#put(puts),
    }, text);
  }

  #keepButton(words, onKeep, main) {
    return h('button', {
      type: 'button',
      class: main ? 'main keep' : 'keep',
      onclick: () => this.#keep(onKeep),
    }, words);
  }

  async #keep(onKeep) {
    const typed = this.text.trim();
    const found = !typed && this.empty ? { ok: true, value: null } : this.read(typed, this.unit);
    if (!found.ok) return this.say(typedAnswers.with_sentence(found));
    const keep = (confirmed) =>
      this.keeping(this.keeps, () => onKeep(found, typed || null, confirmed));
    return this.askedOr(typed ? this.askBack(found, typed) : null, keep);
  }

  #put(puts) {
    this.input.value = `${this.text}${puts}`.replace(/^0+(?=\d)/, '').replace(/ {2,}/g, ' ')
      .trimStart();
    this.changed();
  }

  // A word that one key put goes in one go.
  #rubOut() {
    this.input.value = this.text.trimEnd().replace(
      /(?: ?\+| ?\u00b1| ?then| ?[^\d\s]{3,}|.)$/u,
      '',
    );
    this.changed();
  }

  #otherUnit() {
    const names = this.units.map(([name]) => name);
    this.unit = names[(names.indexOf(this.unit) + 1) % names.length];
    this.onUnit(this.unit);
    this.changed();
  }

  /**
   * Says what the text reads as, and in which unit.
   *
   * @override
   */
  draw() {
    const found = this.text.trim() ? this.read(this.text.trim(), this.unit) : null;
    if (this.unit) this.input.placeholder = this.units.find(([name]) => name === this.unit)[1];
    this.live.textContent = found?.ok
      ? this.said(found)
      : this.unit
      ? `in ${jointTerms.GAUGE_UNITS[this.unit]}`
      : '';
    if (!this.units.length) return;
    const names = this.units.map(([name]) => name);
    this.unitButton.textContent = this.units[(names.indexOf(this.unit) + 1) % names.length][1];
  }
}

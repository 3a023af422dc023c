/**
 * What every pad has: a figure that keys and typing change, and what is wrong with it said at it.
 */

import { askedParts, orSoIt } from './asked.js';
import { h } from '../../dom.js';

export class Pad {
  /**
   * `onText(text)` hears every change.
   */
  constructor({ onText }) {
    this.onText = onText;
    this.input = h('input', {
      class: 'pad-figure',
      inputmode: 'none',
      autocomplete: 'off',
      autocapitalize: 'off',
      spellcheck: 'false',
      enterkeyhint: 'done',
      oninput: () => this.changed(),
      onblur: () => this.input.setAttribute('inputmode', 'none'),
    });
    this.says = h('div', { class: 'asked pad-says', role: 'alert' });
  }

  /** Draws what the text reads as: a matter of each kind of pad. */
  draw() {}

  get text() {
    return this.input.value;
  }

  set text(text) {
    this.input.value = text;
    this.say(null);
    this.draw();
  }

  changed() {
    this.say(null);
    this.draw();
    this.onText(this.text);
  }

  /**
   * Says what is wrong with the text and offers the choices there are; null takes that back. What
   * is odd but may be so has `soIt()`, which keeps it all the same.
   */
  say(found) {
    this.input.toggleAttribute('aria-invalid', Boolean(found));
    if (!found) return this.says.replaceChildren();
    this.says.replaceChildren(...askedParts(found, ({ text }) => {
      this.text = text;
      this.changed();
    }));
  }

  /** Keeps with `keep(null)`; where there is something to ask first, with that once it is so. */
  askedOr(asked, keep) {
    return asked ? this.say(orSoIt(asked, () => keep(asked))) : keep(null);
  }

  /** Does what keeps a reading, its buttons at rest meanwhile; says why when that fails. */
  async keeping(buttons, act) {
    for (const button of buttons) button.disabled = true;
    try {
      await act();
    } catch (error) {
      this.say({ says: error.says ?? String(error), choices: [] });
    } finally {
      for (const button of buttons) button.disabled = false;
    }
  }

  /** Brings up the keyboard of the phone. */
  type() {
    this.input.setAttribute('inputmode', 'text');
    this.input.blur();
    this.input.setAttribute('inputmode', 'text');
    this.input.focus();
  }
}

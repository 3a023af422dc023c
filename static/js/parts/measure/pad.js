/**
 * What every pad has: a figure that keys and typing change, and what is wrong with it said at it.
 */

import { h } from '../../dom.js';

/** What somebody says who has measured an odd value again. */
export const IT_IS_SO = 'Measured again, it is so';

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
    this.says = h('div', { class: 'pad-says', role: 'alert' });
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
    const choose = (choice) =>
      h('button', {
        type: 'button',
        onclick: () => {
          this.text = choice.text;
          this.changed();
        },
      }, choice.text);
    this.says.replaceChildren(
      h('p', {}, found.says),
      ...(found.choices ?? []).map(choose),
      ...(found.soIt
        ? [h('button', { type: 'button', class: 'so-it-is', onclick: found.soIt }, IT_IS_SO)]
        : []),
    );
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

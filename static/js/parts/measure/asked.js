/** What is asked back at a field: about a text that is no value, or a value that no vehicle has. */

import { ask_back as askBack, typed_answers as typedAnswers } from '../../reckon.js';
import { h } from '../../dom.js';
import { makeEntry } from '../../store/entries.js';

/** What somebody says who has measured an odd value again. */
export const IT_IS_RIGHT = 'Measured again: it is right';

let count = 0;

/**
 * What is to be asked about a value of a job: by its range, or because with `drafts`, the entries
 * that would keep it, it does not fit another one. Null where there is nothing to ask.
 */
export function askOf(job, round, path, value, drafts = []) {
  const sheet = job.sheet(round);
  const asked = askBack.ask_back(path, value, job.units, sheet.confirmed ?? []);
  if (asked || drafts.length === 0) return asked;
  const made = drafts.map((draft) => makeEntry(draft, { phone: null, build: '' }));
  return askBack.ask_beside(sheet, job.with(made).sheet(round));
}

/** The sentence, a button for each choice, and one to keep it all the same where `soIt` does. */
export function askedParts({ says, choices = [], soIt = null }, onChoice) {
  const button = (text, onclick, className = null) =>
    h('button', { type: 'button', class: className, onclick }, text);
  return [
    h('p', {}, says),
    ...choices.map((choice) => button(choice.text, () => onChoice(choice))),
    ...(soIt ? [button(IT_IS_RIGHT, soIt, 'so-it-is')] : []),
  ];
}

/** What is asked, with the way to keep the value as it is; what can never be so has none. */
export function orSoIt(asked, soIt) {
  return asked.never ? asked : { ...asked, soIt };
}

/** A field in a form: its text is read, asked back where it is odd, and kept as it was typed. */
export class TypedField {
  /**
   * `read(text)` answers as the parsers of the arithmetic do, or with `says` alone; `ask(found)`
   * finds what is to be asked about the value. Nothing written reads as null where it may be
   * `empty`. `again()` does once more what the value was wanted for, as a rule to send the form.
   *
   * @param {{label: string, read: (text: string) => any, again?: () => any,
   *   ask?: (found: any) => any, shown?: string, empty?: boolean, more?: Record<string, any>}}
   *   options
   */
  constructor({ label, read, again, ask = () => null, shown = '', empty = false, more = {} }) {
    const id = `field-${++count}`;
    this.read = read;
    this.ask = ask;
    this.again = again ?? (() => this.input.form.requestSubmit());
    this.empty = empty;
    this.says = h('div', { class: 'asked', id: `${id}-says`, role: 'alert' });
    this.input = h('input', {
      id,
      value: shown,
      autocomplete: 'off',
      maxlength: '120',
      'aria-describedby': `${id}-says`,
      ...more,
    });
    this.element = h(
      'div',
      { class: 'field' },
      h('label', { for: id }, label),
      this.input,
      this.says,
    );
  }

  get text() {
    return this.input.value.trim();
  }

  /** Writes a text as if it were typed. */
  put(text) {
    this.input.value = text;
    this.input.dispatchEvent(new Event('input', { bubbles: true }));
  }

  /**
   * The answer with the value, and `confirmed`, the question that was answered with "it is so",
   * which the field has too; null where nothing is written and may be so, undefined where the field
   * asks back.
   */
  take() {
    this.say(null);
    this.confirmed = null;
    if (!this.text && this.empty) return null;
    const found = this.read(this.text);
    if (!found.ok) return this.say(found.says ? found : typedAnswers.with_sentence(found));
    const asked = this.ask(found);
    const confirmed = asked && this.soIs === asked.key ? asked : null;
    if (asked && !confirmed) {
      return this.say(orSoIt(asked, () => {
        this.soIs = asked.key;
        return this.again();
      }));
    }
    this.confirmed = confirmed;
    return { ...found, confirmed };
  }

  /** Says what is wrong or odd, and leaves the field to be put right; null takes that back. */
  say(found) {
    this.input.toggleAttribute('aria-invalid', Boolean(found));
    if (!found) return this.says.replaceChildren();
    this.says.replaceChildren(...askedParts(found, ({ text }) => {
      this.put(text);
      return this.again();
    }));
    this.input.focus({ preventScroll: true });
    // A pad at the foot of the screen would hide what is asked.
    this.element.scrollIntoView({ block: 'center' });
    return undefined;
  }
}

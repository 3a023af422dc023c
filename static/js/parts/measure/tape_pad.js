/**
 * The tape pad: a length entered as it is read. Inches by the whole number and then by touching the
 * mark on a drawn inch of tape, millimeters by digits or on a drawn centimeter, anything by typing.
 */

import { h, line, round, s, words } from '../../dom.js';
import { length_grammar as grammar, lengths, typed_answers as typedAnswers } from '../../reckon.js';
import { Pad } from './pad.js';

const INCH = grammar.INCH;
const WIDTH = 360;
const EDGE = 24;
const SPAN = WIDTH - 2 * EDGE;
const TOP = 16;
const DEEP = 84;

/** The tapes that can be read: what a drawn stretch holds and how it is divided. */
const TAPES = {
  in16: { unit: 'in', marks: 16, step: INCH / 16, other: 'in32', offer: '32nds', name: '16ths' },
  in32: { unit: 'in', marks: 32, step: INCH / 32, other: 'in16', offer: '16ths', name: '32nds' },
  mm1: { unit: 'mm', marks: 10, step: 1, other: 'mm05', offer: 'half mm', name: 'mm' },
  mm05: { unit: 'mm', marks: 20, step: 0.5, other: 'mm1', offer: 'whole mm', name: 'half mm' },
};

/** The tape of a unit that is read to `readTo` mm. */
export function tapeFor(unit, readTo) {
  if (unit === 'in') return readTo && readTo < 1 ? 'in32' : 'in16';
  return readTo && readTo < 1 ? 'mm05' : 'mm1';
}

/** How high a mark stands, by how many marks it is a multiple of. */
function markHeight(tape, index) {
  const heights = tape.unit === 'in' ? [58, 46, 36, 27, 19, 12] : [58, 46, 30, 20];
  const parts = tape.unit === 'in' ? [1, 2, 4, 8, 16, 32] : [1, 2, 10, 20];
  return heights[parts.findIndex((part) => (index * part) % tape.marks === 0)];
}

function fraction(top, bottom) {
  while (top && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  return `${top}/${bottom}`;
}

/** The text of a number of marks from the tape's zero, as one would write it. */
export function written(tapeName, marks) {
  const tape = TAPES[tapeName];
  if (tape.unit === 'mm') return String(marks * tape.step);
  const whole = Math.floor(marks / tape.marks);
  const rest = marks - whole * tape.marks;
  if (!rest) return String(whole);
  return whole ? `${whole} ${fraction(rest, tape.marks)}` : fraction(rest, tape.marks);
}

/** The drawn stretch of tape that begins at `base` marks, read at `at` marks or nowhere. */
function drawTape(tape, base, at) {
  const x = (mark) => EDGE + (mark * SPAN) / tape.marks;
  const marks = Array.from({ length: tape.marks + 1 }, (_, index) =>
    line(
      x(index),
      TOP,
      x(index),
      TOP + markHeight(tape, index),
      index % (tape.marks / (tape.unit === 'in' ? 4 : 2)) ? 'mark' : 'mark bold',
    ));
  const per = tape.unit === 'in' ? 1 : 10;
  const whole = (base / tape.marks) * per;
  return [
    s('rect', { x: 0, y: TOP, width: WIDTH, height: DEEP, class: 'tape-body' }),
    at === null
      ? null
      : s('rect', { x: 0, y: TOP, width: round(x(at - base)), height: DEEP, class: 'tape-run' }),
    marks,
    quarterWords(tape, x),
    words(x(0) + 5, TOP + 79, `${whole} ${tape.unit}`, 'tape-whole'),
    words(
      WIDTH * 0.54,
      TOP + 79,
      at === null ? `${tape.name}: tap the mark` : tape.name,
      'tape-part',
      'middle',
    ),
    words(x(tape.marks) - 5, TOP + 79, String(whole + per), 'tape-whole', 'end'),
    at === null ? null : pointer(x(at - base)),
  ];
}

function quarterWords(tape, x) {
  if (tape.unit === 'mm') return [words(x(tape.marks / 2), TOP + 62, '5', 'tape-part', 'middle')];
  /** @type {[number, string, number][]} */
  const quarters = [[1, '1/4', 53], [2, '1/2', 63], [3, '3/4', 53]];
  return quarters.map(([quarter, text, down]) =>
    words(x((tape.marks * quarter) / 4), TOP + down, text, 'tape-part', 'middle')
  );
}

// Above the tape, so that the finger hides nothing.
function pointer(x) {
  return s(
    'g',
    {},
    line(x, 6, x, TOP + DEEP, 'pointer'),
    s('path', { d: `M${round(x - 11)} 0h22l-11 15z`, class: 'pointer-head' }),
  );
}

export class TapePad extends Pad {
  /**
   * `onKeep({value, unit, typed, read_to})` returns a promise; the text stays until its owner
   * sets another.
   * `onText(text)` hears every change, `onTape(name)` a change of tape.
   * `askBack(reading)` finds what is to be asked about a value that vehicles do not have, or null;
   * who has measured it again keeps it with that answer, the reading's `confirmed`. A `distance`
   * of zero is asked back, unless it is written as touching.
   *
   * @param {{tape: string, onKeep: (reading: any) => Promise<any>, onText?: (text: string) => void,
   *   onTape?: (name: string) => void, askBack?: (reading: any) => any,
   *   distance?: boolean}} options
   */
  constructor(
    { tape, onKeep, onText = () => {}, onTape = () => {}, askBack = () => null, distance = false },
  ) {
    super({ onText });
    this.askBack = askBack;
    this.parse = distance ? lengths.parse_distance : lengths.parse_length;
    this.tapeName = tape;
    this.onKeep = onKeep;
    this.onTape = onTape;
    this.input.addEventListener('keydown', (event) => this.#key(event));
    this.svg = s('svg', {
      viewBox: `0 0 ${WIDTH} ${TOP + DEEP}`,
      class: 'tape',
      role: 'slider',
      tabindex: '0',
      'aria-label': 'Tape',
      'aria-valuemin': '0',
      onpointerdown: (event) => this.#touch(event, true),
      onpointermove: (event) => this.#touch(event, false),
      onkeydown: (event) => this.#arrow(event),
    });
    this.keepButton = h('button', { class: 'main keep', type: 'submit' }, 'Save');
    this.unitButton = h('button', {
      type: 'button',
      class: 'alt',
      onclick: () => this.#otherUnit(),
    });
    this.divisionButton = h('button', {
      type: 'button',
      class: 'alt',
      onclick: () => this.#useTape(this.tape.other),
    });
    this.element = this.#build();
    this.draw();
  }

  get tape() {
    return TAPES[this.tapeName];
  }

  #build() {
    const key = (digit) =>
      h('button', { type: 'button', class: 'key', onclick: () => this.#digit(digit) }, digit);
    const nudge = (by, name, sign) =>
      h('button', {
        type: 'button',
        class: 'nudge',
        'aria-label': name,
        onclick: () => this.#nudge(by),
      }, sign);
    return h(
      'form',
      {
        class: 'pad',
        novalidate: true,
        onsubmit: (event) => {
          event.preventDefault();
          this.keep();
        },
      },
      this.says,
      h(
        'div',
        { class: 'pad-read' },
        nudge(-1, 'One mark less', '\u2212'),
        this.input,
        nudge(1, 'One mark more', '+'),
      ),
      this.svg,
      h(
        'div',
        { class: 'keys' },
        ['1', '2', '3', '4', '5'].map(key),
        h('button', {
          type: 'button',
          class: 'key',
          'aria-label': 'Backspace',
          onclick: () => this.#rubOut(),
        }, '\u232b'),
        ['6', '7', '8', '9', '0'].map(key),
        h('button', { type: 'button', class: 'key alt', onclick: () => this.type() }, 'abc'),
        this.unitButton,
        this.divisionButton,
        this.keepButton,
      ),
    );
  }

  /** Names what the next reading is: `Save left 1 of 2`, for what is measured. */
  ask(keepWords, label) {
    this.keepButton.textContent = keepWords;
    this.input.setAttribute('aria-label', label);
  }

  /** What the text reads as: the answer of its parser. */
  read() {
    return this.parse(this.text, this.tape.unit, this.tape.step);
  }

  /** Keeps what is written, or says at the field what is wrong with it. */
  async keep() {
    const typed = this.text.trim();
    const found = this.read();
    if (!found.ok) return this.say(typedAnswers.with_sentence(found));
    const { value, unit } = found;
    const reading = { value, unit, typed, read_to: this.#readTo(unit) };
    const keep = (confirmed) =>
      this.keeping([this.keepButton], () => this.onKeep({ ...reading, confirmed }));
    return this.askedOr(this.askBack(reading), keep);
  }

  // A length typed in the other unit was read from another tape than the one drawn.
  #readTo(unit) {
    if (unit === this.tape.unit) return this.tape.step;
    return unit === 'in' ? INCH / 16 : 1;
  }

  /** Marks from the tape's zero, or null where the text is no place on this tape. */
  #marks() {
    const found = this.read();
    return found.ok ? Math.round(found.value / this.tape.step) : null;
  }

  #put(marks) {
    this.input.value = written(this.tapeName, Math.max(0, marks));
    this.changed();
  }

  #base() {
    return Math.floor((this.#marks() ?? 0) / this.tape.marks) * this.tape.marks;
  }

  // A whole number of inches stays on the stretch that begins with it; the end of a stretch is the
  // next one's begin.
  #touch(event, down) {
    if (!down && !this.svg.hasPointerCapture(event.pointerId)) return;
    if (down) this.svg.setPointerCapture(event.pointerId);
    if (down) this.from = this.#base();
    // Through the drawing's own matrix: a wide screen leaves room at both sides of it.
    const screen = this.svg.getScreenCTM();
    if (!screen) return;
    const { x: across } = new DOMPoint(event.clientX, event.clientY)
      .matrixTransform(screen.inverse());
    const mark = Math.round(((across - EDGE) / SPAN) * this.tape.marks);
    this.#put(this.from + Math.max(0, Math.min(this.tape.marks, mark)));
  }

  #nudge(by) {
    this.#put((this.#marks() ?? 0) + by);
  }

  #arrow(event) {
    const by = {
      ArrowRight: 1,
      ArrowUp: 1,
      ArrowLeft: -1,
      ArrowDown: -1,
      PageUp: this.tape.marks,
      PageDown: -this.tape.marks,
    }[event.key];
    if (!by) return;
    event.preventDefault();
    this.#nudge(by);
  }

  // Digits are the whole inches (or the millimeters); the mark that was touched stays.
  #digit(digit) {
    const [, whole, rest] = /^(\d*)(.*)$/s.exec(this.text);
    if (this.tape.unit === 'in' && rest.startsWith('/')) this.input.value = `${digit} ${this.text}`;
    else if (rest.startsWith('.')) this.input.value += digit;
    else {this.input.value = `${whole.length < 4 ? whole + digit : whole}${rest}`.replace(
        /^0+(?=\d)/,
        '',
      );}
    this.changed();
  }

  #rubOut() {
    const [, whole, rest] = /^(\d*)(.*)$/s.exec(this.text);
    this.input.value = rest && /^ \d+\/\d+$/.test(rest) ? whole : this.text.slice(0, -1);
    this.changed();
  }

  #key(event) {
    if (event.key === 'ArrowUp') {
      event.preventDefault();
      this.#nudge(1);
    }
    if (event.key === 'ArrowDown') {
      event.preventDefault();
      this.#nudge(-1);
    }
  }

  #useTape(name) {
    this.tapeName = name;
    this.onTape(name);
    this.changed();
  }

  #otherUnit() {
    this.#useTape(this.tape.unit === 'in' ? 'mm1' : 'in16');
  }

  /**
   * Draws the tape as the text reads.
   *
   * @override
   */
  draw() {
    const marks = this.#marks();
    this.svg.replaceChildren(
      ...drawTape(this.tape, this.#base(), this.text ? marks : null).flat(Infinity).filter(Boolean),
    );
    this.svg.setAttribute('aria-valuenow', String(marks ?? 0));
    this.svg.setAttribute(
      'aria-valuetext',
      this.text ? `${this.text} ${this.tape.unit}` : 'no reading yet',
    );
    this.unitButton.textContent = this.tape.unit === 'in' ? 'mm' : 'inch';
    this.divisionButton.textContent = this.tape.offer;
    this.input.setAttribute('placeholder', this.tape.unit);
  }
}

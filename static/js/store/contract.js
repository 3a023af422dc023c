/**
 * The contract of entries on the phone: what no shop would take is not kept, and what a phone
 * cannot read is set apart.
 */

import { entry_rules as entryRules } from '../reckon.js';
import { TABLE } from './contract_table.js';

const BROKEN_CHARACTER = /\p{Surrogate}/u;
// The shop counts these control characters as blanks too.
// deno-lint-ignore no-control-regex
const NOT_BLANK = /[^\s\x1c-\x1f\x85]/;
// What nobody sees in a name: control and format characters, and fillers.
const HIDDEN = new RegExp(
  '[\\0-\\x1f\\x7f-\\x9f\\xad\\u034f\\u061c\\u115f\\u1160\\u17b4\\u17b5\\u180b-\\u180f' +
    '\\u200b-\\u200f\\u2028-\\u202e\\u2060-\\u206f\\u2800\\u3164\\ufeff\\uffa0' +
    '\\ufff0-\\ufffb\\u{e0000}-\\u{e0fff}]',
  'u',
);
const MORE = ['', ', not an empty one', ', each of which is seen'];
const NAMED_BY = { reading: ['step'], pick: ['step', 'field'] };
const UNREADABLE = 'unreadable';

// A fault is what a value must be in words, and the fields that lead to it from outside in.
const fault = (must, ...path) => ({ must, path });
const within = (found, part) => found && { ...found, path: [part, ...found.path] };
const unless = (fine, must) => fine ? null : fault(must);
const isObject = (value) => typeof value === 'object' && value !== null && !Array.isArray(value);

function ofNumbers(more, words) {
  return (given) => {
    const [least, most] = given.split(' ').map(Number);
    const must = words(least, most);
    return (value) =>
      unless(
        typeof value === 'number' && value <= most && value >= least && more(value, least),
        must,
      );
  };
}

/**
 * @param {(given: string) => (text: string) => boolean} fits
 * @param {(given: string) => string} words
 */
function ofTexts(fits, words = (_) => '') {
  return (given) => {
    const [fine, must] = [fits(given), words(given)];
    return (value) =>
      unless(typeof value === 'string' && !BROKEN_CHARACTER.test(value) && fine(value), must);
  };
}

function isDay(text) {
  const day = new Date(`${text}T00:00Z`);
  return !isNaN(day.getTime()) && day.toISOString().startsWith(text);
}

/** The fields that a line names, each {name, may, line}; `may` says that it may be left out. */
function fieldsOf(given) {
  return [...given.matchAll(/(\w+)(\??) (\d+)/g)].map(([, name, may, line]) => ({
    name,
    may,
    line,
  }));
}

function ofFields(closed) {
  return (given) => {
    const fields = fieldsOf(given);
    const known = new Set(fields.map(({ name }) => name));
    return (value) => {
      if (!isObject(value)) return fault('an object');
      const lacking = fields.find(({ name, may }) => !may && !Object.hasOwn(value, name));
      if (lacking) return fault(null, lacking.name);
      const more = Object.keys(value).find((name) => closed && !known.has(name));
      if (more !== undefined) return fault('left out', more);
      return firstOf(
        fields.filter(({ name }) => Object.hasOwn(value, name)),
        ({ name, line }) => within(check(line, value[name]), name),
      );
    };
  };
}

// As many as the text takes in UTF-8.
function bytesOf(value) {
  return encodeURIComponent(JSON.stringify(value)).replaceAll(/%../g, '-').length;
}

function firstOf(items, find) {
  for (const each of items) {
    const found = find(each);
    if (found) return found;
  }
  return null;
}

// By the first word of a line: what checks a value, made from the rest of the line.
const KINDS = {
  null: () => (value) => unless(value === null, 'nothing'),
  boolean: () => (value) => unless(typeof value === 'boolean', 'true or false'),
  never: () => () => fault('left out'),
  object: (most) => (value) => {
    if (!isObject(value)) return fault('an object');
    return unless(bytesOf(value) <= Number(most), `shorter: at most ${most} bytes`);
  },
  one: (given) => (value) => unless(given.split(', ').includes(value), `one of ${given}`),
  number: ofNumbers(Number.isFinite, (least, most) => `a number from ${least} to ${most}`),
  above: ofNumbers(
    (value, least) => value > least,
    (least, most) => `a number above ${least}, up to ${most}`,
  ),
  whole: ofNumbers(Number.isInteger, (least, most) => `a whole number from ${least} to ${most}`),
  text: ofTexts(
    (given) => {
      const [least, most] = given.split(' ');
      return (text) =>
        [...text].length <= Number(most) && (least === '0' || NOT_BLANK.test(text)) &&
        (least !== '2' || !HIDDEN.test(text));
    },
    (given) => {
      const [least, most] = given.split(' ');
      return `a text of at most ${most} characters${MORE[least]}`;
    },
  ),
  like: ofTexts((given) => {
    const pattern = new RegExp(given);
    return (text) => pattern.test(text);
  }),
  day: ofTexts((given) => {
    const pattern = new RegExp(given);
    return (text) => pattern.test(text) && isDay(text);
  }, () => 'a day such as 2026-12-24'),
  list: (given) => {
    const [line, least, most] = given.split(' ');
    return (value) => {
      if (!Array.isArray(value) || value.length < Number(least) || value.length > Number(most)) {
        return fault('a list');
      }
      return firstOf(
        value.entries(),
        ([index, each]) => within(check(line, each), `no. ${index + 1}`),
      );
    };
  },
  either: (given) => {
    const ways = given.split(' ');
    return (value) => {
      const found = ways.map((line) => check(line, value));
      return found.includes(null) ? null : found[0];
    };
  },
  names: (given) => {
    const [names, values] = given.split(' ');
    return (value) => {
      if (!isObject(value)) return fault('an object');
      return firstOf(
        Object.entries(value),
        ([name, each]) => within(check(names, name) ?? check(values, each), name),
      );
    };
  },
  open: ofFields(false),
  only: ofFields(true),
};

const LINES = TABLE.replaceAll('\n ', ' ').trim().split('\n').map((line) => {
  const blank = `${line} `.indexOf(' ');
  return [line.slice(0, blank), line.slice(blank + 1)];
});
const BODIES = new Map(
  LINES.filter(([kind]) => kind === 'is').map(([, given]) => {
    const [name, line] = given.split(' ');
    return [name, line];
  }),
);
const checks = [];

function check(line, value) {
  checks[line] ??= KINDS[LINES[line][0]](LINES[line][1]);
  return checks[line](value);
}

function said(kind, { must, path }) {
  const where = [`The ${kind}${path.length ? '\u2019s' : ''}`, path.join(', ')]
    .filter(Boolean).join(' ').replaceAll('_', ' ');
  if (must === null) return `${where} is missing.`;
  return must ? `${where} must be ${must}.` : `${where} is not as it should be.`;
}

/** What is wrong with an entry's body, as one sentence; empty when it can be read. */
function bodyFault(kind, body) {
  if (!BODIES.has(kind) || kind === 'entry') return `This app does not know the kind ${kind}.`;
  const parts = NAMED_BY[kind]?.map((key) => body?.[key]) ?? [];
  const name = [kind, ...parts].join('.');
  const found = check(BODIES.get(name) ?? BODIES.get(kind), body);
  if (found) return said(kind, found);
  if (!BODIES.has(name)) return `This app does not know the ${kind} ${parts.join(', ')}.`;
  return entryRules.rules_broken(kind, body)[0] ?? '';
}

/** What is wrong with an entry that is to be kept, as one sentence; empty when a shop takes it. */
export function faultOf(entry) {
  // The store allots the number as it keeps the entry.
  const found = check(BODIES.get('entry'), { local_no: 1, ...entry });
  return found ? said('entry', found) : bodyFault(entry.kind, entry.body);
}

const read = new Set();

/**
 * The entry, or one of the kind `unreadable` in its place, which counts for nothing and says what
 * it was and why.
 */
export function readable(entry) {
  // No entry ever changes, so that each is looked into once.
  if (read.has(entry.id)) return entry;
  const fault = bodyFault(entry.kind, entry.body);
  if (fault) {
    const says = `This entry cannot be read: ${fault}`;
    const body = { was: String(entry.kind), says };
    return { ...entry, kind: UNREADABLE, body, made_at: String(entry.made_at ?? '') };
  }
  read.add(entry.id);
  return entry;
}

/** How many characters a field of a body takes; `path` leads to it, through lists too. */
export function longest(name, ...path) {
  const plain = (line) => {
    const [kind, given] = LINES[line];
    const [first] = given.split(' ');
    return kind === 'either' || kind === 'list' ? plain(first) : [kind, given];
  };
  const line = path.reduce(
    (at, part) => fieldsOf(plain(at)[1]).find(({ name }) => name === part).line,
    BODIES.get(name),
  );
  return plain(line)[1].split(' ')[1];
}

// What Python's operators and methods do where JavaScript has no equal of one word.

/** Whether Python takes a value for true: an empty list or dict is not. */
function $truthy(value) {
  if (value === null || typeof value !== 'object') return Boolean(value);
  return (Array.isArray(value) ? value : Object.keys(value)).length > 0;
}

/** The value itself where Python takes it for true; else null. */
function $filled(value) {
  return $truthy(value) ? value : null;
}

/** What a loop goes through: the values of a list, the letters of a text, the keys of a dict. */
function $each(values) {
  if (Array.isArray(values)) return values;
  return typeof values === 'string' ? [...values] : Object.keys(values);
}

/** Whether two values are equal, lists and dicts part by part. */
function $same(one, other) {
  if (one === null || other === null || typeof one !== 'object' || typeof other !== 'object') {
    return (one ?? null) === (other ?? null);
  }
  const keys = Object.keys(one);
  return Array.isArray(one) === Array.isArray(other) &&
    keys.length === Object.keys(other).length &&
    keys.every((key) => Object.hasOwn(other, key) && $same(one[key], other[key]));
}

/** Whether a value is in a list, a text in a text, or a key in a dict. */
function $within(value, values) {
  if (Array.isArray(values)) return values.some((one) => $same(one, value));
  return typeof values === 'string' ? values.includes(value) : Object.hasOwn(values, value);
}

/** Two lists one after the other, or the sum of two numbers or texts. */
function $plus(one, other) {
  return Array.isArray(one) ? [...one, ...other] : one + other;
}

/** A list so many times over. */
function $repeated(values, often) {
  return $range(0, often).flatMap(() => values);
}

/** Whether a value is a dict. */
function $is_dict(value) {
  return value !== null && typeof value === 'object' && !Array.isArray(value);
}

/** What a dict has under a key, and something else where it has no such key. */
function $found(dict, key, otherwise) {
  return Object.hasOwn(dict, key) ? dict[key] : otherwise;
}

/** What a dict has under a key, where something is put first if there is no such key. */
function $put_first(dict, key, value) {
  if (!Object.hasOwn(dict, key)) dict[key] = value;
  return dict[key];
}

/** Takes a value out of a list by its place, the last by default, or out of a dict by its key. */
function $taken(values, key = -1, otherwise = null) {
  if (Array.isArray(values)) return values.splice(key, 1)[0];
  const value = $found(values, key, otherwise);
  delete values[key];
  return value;
}

/** The place of a value in a list or text; an error when it is not there. */
function $place_of(value, values) {
  const place = Array.isArray(values)
    ? values.findIndex((one) => $same(one, value))
    : values.indexOf(value);
  return place < 0 ? $fail('ValueError', 'not there') : place;
}

/** The list in the order of a key that is one number or one text. */
function $sorted(values, key) {
  const order = (one, other) => {
    const [a, b] = [key(one), key(other)];
    return a < b ? -1 : Number(a > b);
  };
  return [...$each(values)].sort(order);
}

/** The whole numbers from one on, before another, in steps. */
function $range(start, end, step = 1) {
  return Array.from(
    { length: Math.max(0, Math.ceil((end - start) / step)) },
    (_, index) => start + index * step,
  );
}

/** The values of lists side by side, as far as the shortest goes. */
function $zip(...lists) {
  const all = lists.map($each);
  return $range(0, Math.min(...all.map((list) => list.length)))
    .map((index) => all.map((list) => list[index]));
}

/** The text before a mark, the mark, and the text behind it. */
function $partition(text, mark) {
  const place = text.indexOf(mark);
  if (place < 0) return [text, '', ''];
  return [text.slice(0, place), mark, text.slice(place + mark.length)];
}

/** The text split at a mark, so many times at most from its beginning. */
function $split(text, mark, most) {
  const parts = text.split(mark);
  return parts.length <= most + 1 ? parts : [...parts.slice(0, most), parts.slice(most).join(mark)];
}

/** The text without these characters at its beginning. */
function $lstrip(text, characters) {
  let start = 0;
  while (start < text.length && characters.includes(text[start])) start += 1;
  return text.slice(start);
}

/** The text without these characters at its end. */
function $rstrip(text, characters) {
  let end = text.length;
  while (end > 0 && characters.includes(text[end - 1])) end -= 1;
  return text.slice(0, end);
}

/** The text without these characters at both ends. */
function $strip(text, characters) {
  return $rstrip($lstrip(text, characters), characters);
}

/** The text with its first letter large and the others small. */
function $capitalize(text) {
  return text.slice(0, 1).toUpperCase() + text.slice(1).toLowerCase();
}

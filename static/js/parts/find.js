/** Tag codes and names as a person types them. */

/** The tag code in what was typed or scanned: a code, or an address that ends in one; else null. */
export function codeIn(text) {
  const last = text.trim().toUpperCase().split('/T/').pop().split(/[?#]/)[0].replace(
    /[^A-Z0-9]/g,
    '',
  );
  return last.length === 8 ? `${last.slice(0, 4)}-${last.slice(4)}` : null;
}

/** Whether a text holds every one of the typed words. */
export function holds(own, text) {
  const lower = own.toLowerCase();
  return text.trim().toLowerCase().split(/\s+/).every((word) => lower.includes(word));
}

/**
 * Whether a vehicle's row answers to the typed words, or to the tag code in them; `more` gives what
 * else it says.
 */
export function answersTo(row, text, more = () => '') {
  const own = `${row.name} ${row.tags.join(' ')}`;
  const says = text.trim() ? `${own} ${more()}` : own;
  return holds(says, text) || holds(own, codeIn(text) ?? text);
}

// A collator of the browser takes longer to be made than the whole first screen.
function alike(name) {
  return name.normalize('NFD').replace(/\p{M}+/gu, '').toLowerCase();
}

/** The order of vehicles' rows in a list: by name, whatever its accents and capitals. */
export function byName(a, b) {
  const [first, second] = [alike(a.name), alike(b.name)];
  return first < second ? -1 : Number(first > second);
}

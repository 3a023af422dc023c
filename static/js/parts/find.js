/** Tag codes and names as a person types them. */

/** The tag code in what was typed or scanned: a code, or an address that ends in one; else null. */
export function codeIn(text) {
  const last = text.trim().toUpperCase().split(/\/T\//).pop().replace(/[^A-Z0-9]/g, '');
  return last.length === 8 ? `${last.slice(0, 4)}-${last.slice(4)}` : null;
}

/** Whether a vehicle's row answers to the typed words. */
export function answersTo(row, text) {
  const wanted = text.trim().toLowerCase().split(/\s+/);
  const own = `${row.name} ${row.tags.join(' ')}`.toLowerCase();
  return wanted.every((word) => own.includes(word));
}

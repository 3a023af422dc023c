/** What was typed and chosen in a form and not saved yet: it is back when the form is. */

import { Draft } from './side_reader.js';

/** The same form with what was noted of it under `key`; what changes in it is noted from now on. */
export async function withDraft(app, key, form) {
  const draft = new Draft(app.store);
  const noted = await app.store.draft(key);
  if (noted) putBack(form, JSON.parse(noted));
  form.addEventListener('input', () => draft.note(key, JSON.stringify([...new FormData(form)])));
  // Saving has ended the draft already.
  form.addEventListener('submit', () => draft.cancel());
  return form;
}

function putBack(form, given) {
  for (const field of form.elements) {
    const values = given.filter(([name]) => name === field.name).map(([, value]) => value);
    if (['radio', 'checkbox'].includes(field.type)) field.checked = values.includes(field.value);
    else if (values.length) field.value = values[0];
    // What hangs on a field hears of it as when it was typed.
    for (const kind of ['input', 'change']) field.dispatchEvent(new Event(kind));
  }
}

/** A tag that leads nowhere yet: what it is put on, made here, with or without the network. */

import { byName } from '../parts/find.js';
import { Draft } from '../parts/measure/side_reader.js';
import { h } from '../dom.js';
import { longest } from '../store/contract.js';
import { terms } from '../reckon.js';
import { vehicleOfTag } from '../store/entries.js';

const UNITS = [['in', 'inches'], ['mm', 'millimeters']];
const SIDES = [['left', 'left'], ['right', 'right']];

function choices(legend, name, options, chosen, type = 'radio') {
  return h(
    'fieldset',
    {},
    h('legend', {}, legend),
    h(
      'div',
      { class: 'picks abreast' },
      options.map(([value, text]) =>
        h(
          'label',
          { class: type === 'radio' ? 'pick' : 'tick' },
          h('input', { type, name, value, checked: chosen.includes(value) }),
          text,
        )
      ),
    ),
  );
}

/** Opens the vehicle when the tag turned out to lead to one meanwhile; true when it did. */
async function openKnown(app, code) {
  const row = await app.store.vehicleByTag(code);
  if (row) await app.go(`#/vehicle/${row.id}`, { replace: true });
  return Boolean(row);
}

async function makeVehicle(app, code, given) {
  const vehicle = vehicleOfTag(code);
  const record = {
    name: given.get('name').trim(),
    units: given.get('units'),
    driving_side: given.get('driving_side'),
    axles: given.getAll('axles'),
  };
  await app.keep([{ kind: 'vehicle', vehicle, body: record, typed: given.get('name') }, {
    kind: 'tag',
    vehicle,
    body: { code, first: true },
  }], { dropDraft: `tag|${code}` });
  await openMade(app, vehicle);
}

async function openMade(app, vehicle) {
  app.wanted = null;
  await app.go(`#/vehicle/${vehicle}`, { replace: true });
}

/** What is missing in the form, as a sentence, or null. */
function lacking(given) {
  if (!given.get('name').trim()) return 'Enter the name the shop uses for it.';
  return given.getAll('axles').length ? null : 'Choose the axle, or both.';
}

async function makeForm(app, code) {
  const usual = await app.store.fact('usual') ?? { units: 'in', driving_side: 'left' };
  const draft = new Draft(app.store);
  const fault = h('p', { class: 'fault', role: 'alert' });
  const name = h('input', {
    name: 'name',
    maxlength: longest('vehicle', 'name'),
    autocomplete: 'off',
    value: await app.store.draft(`tag|${code}`) ?? '',
    oninput: () => draft.note(`tag|${code}`, name.value),
  });
  const submit = async (event) => {
    event.preventDefault();
    const given = new FormData(event.target);
    fault.textContent = lacking(given) ?? '';
    if (fault.textContent) return fault.textContent.startsWith('Enter') && name.focus();
    draft.cancel();
    return await openKnown(app, code) || makeVehicle(app, code, given);
  };
  return h(
    'form',
    { class: 'new-vehicle', onsubmit: submit },
    h('label', { class: 'field' }, 'Name the shop uses', name),
    choices('Measured in', 'units', UNITS, [usual.units]),
    choices('The driver sits on the', 'driving_side', SIDES, [usual.driving_side]),
    choices('Solid axle with a track bar', 'axles', terms.AXLES.map((axle) => [axle, axle]), [
      'front',
    ], 'checkbox'),
    fault,
    h('div', { class: 'bottom row-buttons' }, h('button', { class: 'main' }, 'Add this vehicle')),
  );
}

async function otherForm(app, code) {
  const rows = (await app.store.vehicles()).filter(({ retired }) => !retired).sort(byName);
  const submit = async (event) => {
    event.preventDefault();
    const vehicle = new FormData(event.target).get('vehicle');
    await app.keep([{ kind: 'tag', vehicle, body: { code } }]);
    await openMade(app, vehicle);
  };
  return rows.length > 0 &&
    h(
      'details',
      { class: 'box' },
      h('summary', {}, 'Attach it to a vehicle on file'),
      h(
        'form',
        { class: 'note', onsubmit: submit },
        h(
          'label',
          { class: 'field' },
          'Vehicle',
          h(
            'select',
            { name: 'vehicle' },
            rows.map((row) =>
              h('option', { value: row.id }, [row.name, ...row.tags.slice(-1)].join(', '))
            ),
          ),
        ),
        h('button', {}, `Attach ${code}`),
      ),
    );
}

/** What to do at a tag in a browser that is nobody's: it takes nothing in. */
function unpaired(app, code) {
  return {
    title: code,
    back: () => app.go('#/'),
    parts: [
      h('p', { class: 'answer' }, `This is the tag ${code}.`),
      h(
        'p',
        {},
        'This browser is not paired with the shop, so it records nothing. If this phone has the ' +
          'app on its home screen, open that and type the code there.',
      ),
      h(
        'div',
        { class: 'bottom row-buttons' },
        h('a', { class: 'button main', href: '/app#/pair' }, 'Pair this browser'),
      ),
    ],
    refresh: async () => {},
  };
}

/** The screen; it opens the vehicle by itself when the shop turns out to know the tag. */
export async function show(app, { code }) {
  if (await openKnown(app, code)) return { title: code, parts: [] };
  if (!await app.store.fact('phone')) return unpaired(app, code);
  const [form, other] = [await makeForm(app, code), await otherForm(app, code)];
  const name = form.elements.name;
  return {
    title: 'New tag',
    under: code,
    back: () => app.go('#/'),
    parts: [
      h(
        'div',
        {},
        h('p', {}, `This phone does not know the tag ${code}.`),
        h(
          'p',
          { class: 'soft' },
          'If the shop knows it, its vehicle opens the next time this phone reaches the shop. ' +
            'If it is a blank tag, add its vehicle here.',
        ),
      ),
      other,
      form,
    ],
    busy: () => Boolean(name.value) || document.activeElement === name || Boolean(other?.open),
    refresh: async () => {},
  };
}

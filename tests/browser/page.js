// Put before every page of these tests: short ways to the app's own modules.

const VEHICLE = '11111111-1111-4111-8111-111111111111';
const JOB = '22222222-2222-4222-8222-222222222222';
const PHONE = '33333333-3333-4333-8333-333333333333';

globalThis.use = (name) => import(`/shell/${globalThis.testBuild}/js/${name}.js`);

globalThis.phoneStore = async () => (await use('store/store')).open();

globalThis.reading = async (value, vehicle = VEHICLE) => {
  const { makeEntry } = await use('store/entries');
  const phone = (await (await phoneStore()).fact('phone'))?.id ?? PHONE;
  const body = { step: 'heights', field: 'left', value, unit: 'mm', read_to: 1 };
  return makeEntry({
    kind: 'reading',
    vehicle,
    job: JOB,
    round: 'as_found',
    body,
    typed: `${value}`,
  }, { phone, build: 'test' });
};

/** Keeps so many readings one after the other; their ids. */
globalThis.keepReadings = async (count) => {
  const store = await phoneStore();
  const ids = [];
  for (let value = 1; value <= count; value += 1) {
    ids.push((await store.keep([await reading(value)]))[0].id);
  }
  return ids;
};

/** Keeps a photo of these bytes with an entry that names it, as the screen for photos does. */
globalThis.keepPhoto = async ([sha256, bytes]) => {
  const body = { sha256, of: 'weld', width: 1600, height: 1200, bytes: bytes.length };
  const entry = { ...await reading(1), kind: 'photo', typed: null, body };
  const photo = { sha256, bytes: Uint8Array.from(bytes).buffer, made_at: entry.made_at };
  await (await phoneStore()).keep([entry], { photos: [photo] });
};

/** How keeping ended: 'kept', or the name and the sentence of the error. */
globalThis.outcome = (promise) => promise.then(() => 'kept', (error) => [error.name, error.says]);

globalThis.unsentIds = async () => (await (await phoneStore()).unsent()).map(({ id }) => id);

/**
 * Begins exchanging with the shop; every state that the state line would show is kept in `states`.
 */
globalThis.meetShop = async (options = {}) => {
  const { startShop } = await use('sync/schedule');
  globalThis.states = [];
  const onState = (state) => states.push(state);
  globalThis.shop = startShop(await phoneStore(), { onState, ...options });
};

/** Settles once the phone holds nothing that the shop lacks. */
globalThis.allSent = async () => {
  const { onPhoneOnly } = await (await phoneStore()).counts();
  return onPhoneOnly === 0;
};

/**
 * Settles once `condition()` gives or settles as something true, asking again and again for 20
 * seconds.
 */
globalThis.until = async (condition) => {
  for (let left = 800; left > 0; left -= 1) {
    if (await condition()) return;
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  throw new Error(`It never came true: ${condition}`);
};

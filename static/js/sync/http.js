/**
 * The one file that speaks to the shop over HTTP: a question, and what its reply may be
 * trusted for.
 *
 * Trouble, by its `kind`
 *   unreachable    no answer, or one that is not the shop's: what became of the question is unknown
 *   busy           the shop asks to be left alone for a while
 *   shop_full      the shop cannot store any more
 *   not_paired     the shop does not know this phone, or no longer
 *   other_shop     another shop answers at this address
 *   moved          the shop lives at another address: it takes what the phone holds, and shows it
 *                  nothing
 *   old_shop       the shop does not speak this version
 *   restored       the shop went back to an older state; `epoch` is its present one, and `parted`
 *                  whether it never had what this phone knows of it
 *   too_large      the shop does not take that much at once
 *   refused        the shop does not take the question as it is
 */

/** The version of the entries and questions that this app writes. */
export const VERSION = 1;

/** How long a question may stay without an answer, in milliseconds. */
export const PATIENCE_MS = 10000;

const SAYS = {
  unreachable: 'The shop does not answer. Readings are saved on this phone and sent when it does.',
  stranger: 'Something other than the shop answered, maybe a Wi-Fi sign-in page. Nothing was ' +
    'sent.',
  busy: 'The shop is busy. Trying again in a moment.',
  shop_full:
    'The shop PC\u2019s disk is full. Readings are saved on this phone until there is space.',
  not_paired:
    'This phone is not paired with the shop. Readings are saved on this phone until it is.',
  other_shop: 'Another shop answers at this address. Nothing is sent to it.',
  moved: 'The shop has a new address. This phone still sends its entries from here; ' +
    'pair it at the new address.',
  old_shop:
    'The shop PC needs an update before it can take readings from this phone. They are saved here.',
  restored: 'The shop restored a backup. Sending what it is missing.',
  too_large: 'Too large for the shop to accept.',
  refused: 'The shop did not accept it.',
};

const KINDS = {
  401: 'not_paired',
  403: 'not_paired',
  404: 'old_shop',
  405: 'old_shop',
  413: 'too_large',
  415: 'old_shop',
  421: 'moved',
  429: 'busy',
  503: 'busy',
  507: 'shop_full',
};

/** Why a question did not come to a good end: its `kind`, and `says`, a sentence for the person. */
export class Trouble extends Error {
  /**
   * @param {string} kind
   * @param {{says?: string, cause?: unknown, [more: string]: any}} [details]
   */
  constructor(kind, { says = SAYS[kind], cause = null, ...more } = {}) {
    super(says, { cause });
    this.name = 'Trouble';
    this.kind = kind;
    this.says = says;
    Object.assign(this, more);
  }
}

/** The trouble of an answer that some other service must have given. */
export function stranger() {
  return new Trouble('unreachable', { says: SAYS.stranger });
}

function content({ body, photo, picture }) {
  const type = { 'Content-Type': 'image/jpeg' };
  if (photo) return { method: 'PUT', body: photo, type };
  if (picture) return { method: 'POST', body: picture, type };
  if (body === undefined) return { method: 'GET', type: {} };
  return {
    method: 'POST',
    body: JSON.stringify(body),
    type: { 'Content-Type': 'application/json' },
  };
}

/** @returns {RequestInit} */
function question(given, credential, patience) {
  const { type, ...asked } = content(given);
  return {
    ...asked,
    headers: {
      Accept: 'application/json',
      ...type,
      ...(credential ? { Authorization: `Bearer ${credential}` } : {}),
    },
    cache: 'no-store',
    credentials: 'omit',
    redirect: 'error',
    signal: AbortSignal.timeout(patience),
  };
}

async function read(response) {
  if (!response.headers.get('Content-Type')?.startsWith('application/json')) throw stranger();
  return response.json();
}

function kindOf(status, code) {
  if (status === 409) return code === 'other_shop' ? 'other_shop' : 'refused';
  return KINDS[status] ?? (status >= 500 ? 'unreachable' : 'refused');
}

function refusal(response, reply) {
  const { code, says } = reply?.error ?? {};
  if (!code) return stranger();
  const kind = kindOf(response.status, code);
  const seconds = Number(response.headers.get('Retry-After'));
  // Only a refusal of the question itself is best told in the shop's own words.
  return new Trouble(kind, {
    says: kind === 'refused' ? says : undefined,
    told: says,
    retryAfter: seconds || null,
  });
}

/**
 * The shop's JSON answer of status 200 to a question at `path`, to a `body` as JSON, to the bytes
 * of a `photo` to be kept, or to a `picture` to be read; rejects with Trouble for everything else.
 *
 * @param {string} path
 * @param {{
 *   body?: any, photo?: BodyInit, picture?: BodyInit, credential?: string | null,
 *   patience?: number,
 * }} [asked]
 * @returns {Promise<any>}
 */
export async function ask(path, { credential = null, patience = PATIENCE_MS, ...given } = {}) {
  try {
    const response = await fetch(path, question(given, credential, patience));
    const reply = await read(response);
    if (response.status === 200 && reply !== null) return reply;
    throw refusal(response, reply);
  } catch (error) {
    if (error instanceof Trouble) throw error;
    // A timeout, a dropped connection and a torn body all leave open whether the shop heard us.
    throw new Trouble('unreachable', { cause: error });
  }
}

/**
 * The reply, if it comes from the shop this phone is paired with, in the version, state and place
 * it knows.
 */
export function trusted(reply, { server_id, epoch, high_water }) {
  if (typeof reply.v !== 'number' || !reply.server_id) throw stranger();
  if (reply.v !== VERSION) throw new Trouble('old_shop');
  if (reply.server_id !== server_id) throw new Trouble('other_shop');
  if (!Number.isInteger(reply.high_water)) throw stranger();
  if (reply.epoch !== epoch || reply.high_water < (high_water ?? 0) || reply.parted) {
    throw new Trouble('restored', { epoch: reply.epoch, parted: reply.parted === true });
  }
  return reply;
}

/**
 * What the phone notes of every trusted reply: when it heard from the shop, and how its clock
 * differs.
 */
export function heard(reply) {
  const now = Date.now();
  return {
    heard: new Date(now).toISOString(),
    clock_ahead_ms: now - Date.parse(reply.server_time),
    high_water: reply.high_water,
    // Only where the shop held it against the head before.
    ...(reply.parted === false ? { head: reply.head } : {}),
    epoch: reply.epoch,
    cert_expires: reply.cert_expires ?? null,
    address: reply.address ?? null,
    usual: reply.usual ?? null,
  };
}

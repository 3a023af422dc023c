/** Sees, again and again, whether this phone trusts the shop, and leads on once it does. */

const { address, named } = document.body.dataset;
const EVERY_MS = 3000;
const PATIENCE_MS = 4000;
const SAYS = {
  trusted: 'Trusted. This phone trusts the shop.',
  untrusted: 'Not trusted yet. Follow the steps below; this line updates by itself.',
  lost: `This phone cannot find ${new URL(address).hostname}. Is it on the shop's Wi-Fi? ` +
    'If other phones can find it and this one cannot, the shop needs a fixed ' +
    'address: tell the lead.',
};

/**
 * Whether a request gets through at all; what it says is of no interest, and not to be read from
 * here.
 */
async function reaches(url) {
  try {
    await fetch(url, {
      mode: 'no-cors',
      cache: 'no-store',
      credentials: 'omit',
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    return true;
  } catch {
    return false;
  }
}

async function look() {
  if (await reaches(`${address}/trusted`)) return 'trusted';
  return await reaches(named) ? 'untrusted' : 'lost';
}

function show(state) {
  const line = document.querySelector('#state');
  if (line.textContent !== SAYS[state]) line.textContent = SAYS[state];
  line.className = `state ${state}`;
  document.querySelector('#on').hidden = state !== 'trusted';
}

const apple = /iPhone|iPad|Macintosh/.test(navigator.userAgent);
document.querySelector(
  apple ? '#ios' : /Android/.test(navigator.userAgent) ? '#android' : '#computer',
).open = true;

for (;;) {
  const state = await look();
  show(state);
  if (state === 'trusted') break;
  await new Promise((resolve) => {
    setTimeout(resolve, EVERY_MS);
  });
}

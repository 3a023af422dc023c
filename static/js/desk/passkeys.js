/**
 * Passkeys: asks the browser to make one, or to sign in with one, and sends what it answers with
 * the form of its button. A browser without passkeys never sees the button.
 */

const toBytes = (text) =>
  Uint8Array.from(
    atob(text.replaceAll('-', '+').replaceAll('_', '/')),
    (character) => character.charCodeAt(0),
  );

const toText = (buffer) =>
  btoa(String.fromCharCode(...new Uint8Array(buffer)))
    .replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');

/** The answer as the shop reads it: bytes as Base64 for addresses. */
function written(credential) {
  const response = { clientDataJSON: toText(credential.response.clientDataJSON) };
  for (const name of ['attestationObject', 'authenticatorData', 'signature', 'userHandle']) {
    if (credential.response[name]) response[name] = toText(credential.response[name]);
  }
  return JSON.stringify({
    id: credential.id,
    rawId: toText(credential.rawId),
    type: credential.type,
    clientExtensionResults: {},
    response,
  });
}

const make = ({ publicKey }) =>
  navigator.credentials.create({
    publicKey: {
      ...publicKey,
      challenge: toBytes(publicKey.challenge),
      user: { ...publicKey.user, id: toBytes(publicKey.user.id) },
      excludeCredentials: publicKey.excludeCredentials.map((each) => ({
        ...each,
        id: toBytes(each.id),
      })),
    },
  });

const use = ({ publicKey }) =>
  navigator.credentials.get({
    publicKey: { ...publicKey, challenge: toBytes(publicKey.challenge) },
  });

/** What the shop asks of the browser. */
async function asked(form) {
  const body = new URLSearchParams({ csrf_token: form.elements.csrf_token.value });
  const answer = await fetch(form.dataset.begin, { method: 'POST', body, redirect: 'error' });
  if (!answer.ok) throw new Error(`The shop answered ${answer.status}.`);
  return await answer.json();
}

/** Lets a form with `data-begin` ask for a passkey before it is sent. */
function start(form) {
  const says = form.querySelector('[data-says]');
  const ask = form.dataset.passkey === 'make' ? make : use;
  form.hidden = false;
  form.addEventListener('submit', async (event) => {
    event.preventDefault();
    says.textContent = '';
    try {
      form.elements.answer.value = written(await ask(await asked(form)));
    } catch (error) {
      says.textContent = error.name === 'InvalidStateError'
        ? 'This device has a passkey for you already.'
        : 'Nothing was done: the passkey was not given, or the shop could not be reached.';
      return;
    }
    form.submit();
  });
}

if (globalThis.PublicKeyCredential) {
  for (const form of document.querySelectorAll('form[data-begin]')) start(form);
}

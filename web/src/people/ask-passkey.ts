import {
  type PublicKeyCredentialCreationOptionsJSON,
  type PublicKeyCredentialRequestOptionsJSON,
  startAuthentication,
  startRegistration,
} from '@simplewebauthn/browser'
import { client } from '../api/client.ts'

/** Signs in with a passkey: the browser asks for the finger, the number or the key. */
export async function signInWithPasskey(): Promise<void> {
  // The server's library makes these options by the same standard (WebAuthn) the browser reads them by.
  const optionsJSON = (await client.passkeyQuestion()) as PublicKeyCredentialRequestOptionsJSON
  await client.passkeySignIn(await worded(() => startAuthentication({ optionsJSON })))
}

/** Makes a passkey on this device, or on a key that is plugged in. */
export async function makePasskey(name: string): Promise<void> {
  const optionsJSON = (await client.newPasskeyQuestion()) as PublicKeyCredentialCreationOptionsJSON // as above
  await client.addPasskey(name, await worded(() => startRegistration({ optionsJSON })))
}

async function worded<T>(ask: () => Promise<T>): Promise<T> {
  try {
    return await ask()
  } catch (cause) {
    if (!(cause instanceof Error)) throw cause
    const known = WORDS[cause.name]
    throw known === undefined ? cause : new Error(known, { cause })
  }
}

const WORDS: Readonly<Record<string, string>> = {
  NotAllowedError: 'The browser gave no passkey: it was called off, or took too long. Try again.',
  InvalidStateError: 'This device holds a passkey for you already.',
  SecurityError:
    'Passkeys work only where the pages are opened by their own name over TLS, or on this machine as localhost.',
  NotSupportedError: 'This browser has no passkeys.',
}

/** Shorter ones are found by trying. */
export const LEAST_PASSPHRASE = 12

/** Only a place of these pages: nobody is led elsewhere after signing in. */
export const ownPlace = (to: unknown): string | undefined =>
  typeof to === 'string' && /^\/(?![/\\])/.test(to) ? to : undefined

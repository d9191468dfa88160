import type { Issue } from '@haspwright/engine'

/** Starts with a letter or digit, so that as a file name it leads out of no folder. */
const NAME = /^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/

export const isDocumentName = (id: string): boolean => NAME.test(id)

export const badName = (id: string): Issue => ({
  path: 'id',
  code: 'bad-format',
  message: 'This cannot be the number of anything stored.',
  value: id.slice(0, 80),
  allowed: 'letters, digits, dot, dash and underline, a letter or digit first',
})

export const gone = (id: string): Issue => ({
  path: 'id',
  code: 'not-found',
  message: `There is no ${id} stored that could be changed. Save it as new.`,
})

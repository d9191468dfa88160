import { createHash } from 'node:crypto'

/** A document as it is stored. */
export const documentText = (content: unknown): string => JSON.stringify(content)

/** SHA-256 of a document as it is stored, as hex; the database forms the same over what it holds. */
export const documentDigest = (content: unknown): string =>
  createHash('sha256').update(documentText(content)).digest('hex')

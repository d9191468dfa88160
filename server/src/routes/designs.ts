import { Design, type Issue, read } from '@haspwright/engine'
import { type Register, type Version, WORKS_ID } from '@haspwright/register'
import { may } from '../access/caller.ts'
import { Routes } from '../access/routes.ts'
import { jsonBody } from '../json-body.ts'
import { badInput, conflict, notFound, refusal } from '../replies.ts'
import type { DesignSummary, Stored } from '../wire.ts'
import { whoDoes } from './because.ts'
import { MAX_DOCUMENT_BYTES, PageAsked } from './orders.ts'

/** Designs in their versions, and the works. */
export function designRoutes({
  register,
  saved: onSaved,
}: {
  register: Register
  /** Told of every version stored, before it is answered. */
  saved?: ((design: Design) => Promise<void>) | undefined
}) {
  return new Routes()
    .get('/designs', may('designs.read', 'designs:read'), async (c) => {
      const asked = read(PageAsked, c.req.query())
      if (!asked.ok) return badInput(c, asked.issues)
      const { versions, issues, next } = await register.designs.page(asked.value)
      return c.json({ designs: versions.map(summary).reverse(), issues, next })
    })
    .get('/designs/:id', may('designs.read', 'designs:read'), async (c) => {
      const id = c.req.param('id')
      const wanted = c.req.query('version')
      const stored = wanted === undefined ? register.designs.latest(id) : register.designs.version(id, Number(wanted))
      const design = await stored
      if (design === undefined) return notFound(c, 'There is no such design stored.', id)
      return c.json(asStored(design), 200, { etag: `"${design.version}"` })
    })
    .put('/designs/:id', may('designs.write'), async (c) => {
      const id = c.req.param('id')
      const expected = expectedVersion(c.req.header('if-match'), c.req.header('if-none-match'))
      if (expected === undefined) return refusal(c, 428, [WHICH_VERSION])
      const body = await jsonBody(c, MAX_DOCUMENT_BYTES)
      if (!body.ok) return refusal(c, body.status, body.issues)
      const reading = read(Design, body.value)
      if (!reading.ok) return badInput(c, reading.issues)
      if (reading.value.id !== id) return badInput(c, [otherNumber(reading.value.id, id)])
      const saved = await register.designs.save(id, reading.value, { actor: whoDoes(c), expected })
      if (saved.ok) await onSaved?.(saved.saved.content)
      if (saved.ok) return c.json(asStored(saved.saved), 200, { etag: `"${saved.saved.version}"` })
      if (saved.conflict === undefined) return badInput(c, saved.issues)
      const message = `Design ${id} was changed meanwhile. Look at what is stored, then save yours over it or leave it.`
      return conflict(c, 412, { message, stored: asStored(saved.conflict), given: reading.value })
    })
    .get('/works', may('designs.read', 'designs:read'), async (c) => {
      const works = await register.works.latest(WORKS_ID)
      return works === undefined ? notFound(c, 'No works is stored yet.') : c.json(asStored(works))
    })
}

const asStored = <T>({ version, content }: Version<T>): Stored<T> => ({ version, content })

const summary = ({ id, version, content: { revision, title } }: Version<Design>): DesignSummary => ({
  id,
  version,
  revision,
  title,
})

/** The version that a change follows: its number from `If-Match`, 0 for `If-None-Match: *`. */
function expectedVersion(match: string | undefined, noneMatch: string | undefined): number | undefined {
  const number = /^"([1-9][0-9]{0,8})"$/.exec(match?.trim() ?? '')?.[1]
  if (number !== undefined) return Number(number)
  return match === undefined && noneMatch?.trim() === '*' ? 0 : undefined
}

const WHICH_VERSION: Issue = {
  path: 'If-Match',
  code: 'missing',
  message: 'Say which version this change follows, so that nobody is overwritten unseen.',
  allowed: 'If-Match: "version", or If-None-Match: * for a new design',
}

const otherNumber = (value: string, id: string): Issue => ({
  path: 'id',
  code: 'contradiction',
  message: 'The number in the design is not the one it is saved under.',
  value,
  allowed: id,
})

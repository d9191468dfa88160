import { createHash } from 'node:crypto'
import type { Design } from '@haspwright/engine'
import { type Register, WORKS_ID } from '@haspwright/register'
import type { Context } from 'hono'
import { may } from '../access/caller.ts'
import { Routes } from '../access/routes.ts'
import { type DesignSolids, FILE_KINDS, kindOf, type SolidFile } from '../design-solids.ts'
import { badInput, notFound } from '../replies.ts'
import { reportWithRack } from '../solid-report.ts'
import type { SolidListing } from '../wire.ts'

/** The geometry of a design: measures, mesh of the 3D view, files for other programs. Made when first asked for. */
export function solidRoutes({ register, solids }: { register: Register; solids: DesignSolids }) {
  const designOf = async (c: Context): Promise<Design | undefined> => {
    const [id, version] = [c.req.param('id') ?? '', c.req.query('version')]
    const stored = await (version === undefined
      ? register.designs.latest(id)
      : register.designs.version(id, Number(version)))
    return stored?.content
  }
  const single = (kind: 'report' | 'mesh') => async (c: Context) => {
    const design = await designOf(c)
    if (design === undefined) return noDesign(c)
    const [file] = await solids.files(design, [kind])
    if (file === undefined) return notFound(c, 'There is no such file of this design.')
    if (kind === 'mesh') return fileReply(c, file)
    const kept = await file.bytes()
    if (kept === undefined) return cleared(c, file.kept.path)
    const works = (await register.works.latest(WORKS_ID))?.content
    const bytes = reportWithRack(kept, { design, works })
    const digest = createHash('sha256').update(bytes).digest('base64url')
    return fileReply(c, { ...file, kept: { ...file.kept, digest }, bytes: async () => bytes })
  }
  return new Routes()
    .get('/designs/:id/solids/report', READ, single('report'))
    .get('/designs/:id/solids/mesh', READ, single('mesh'))
    .get('/designs/:id/solids/files', READ, async (c) => {
      const kind = FILE_KINDS.find((known) => known === c.req.query('kind'))
      if (kind === undefined) return badInput(c, [whichKind(c.req.query('kind'))])
      const design = await designOf(c)
      if (design === undefined) return noDesign(c)
      const files = await solids.files(design, [kind])
      return c.json({ files: files.map((file) => listing(design.id, file, c.req.query('version'))) })
    })
    .get('/designs/:id/solids/files/:path{.+}', READ, async (c) => {
      const path = c.req.param('path')
      const kind = kindOf(path)
      const design = await designOf(c)
      if (design === undefined) return noDesign(c)
      const files = kind === undefined ? [] : await solids.files(design, [kind])
      const file = files.find(({ kept }) => kept.path === path)
      return file === undefined ? notFound(c, 'There is no such file of this design.', path) : fileReply(c, file)
    })
}

const READ = may('designs.read', 'designs:read')

const noDesign = (c: Context) => notFound(c, 'There is no such design stored.', c.req.param('id'))

/** Thrown away between the look and the read: asked again it is made again. */
const cleared = (c: Context, path: string) => notFound(c, 'The file was cleared away meanwhile. Ask again.', path)

const whichKind = (value: string | undefined) =>
  ({
    path: 'kind',
    code: value === undefined ? 'missing' : 'not-a-choice',
    message: 'Say which kind of file is wanted.',
    ...(value === undefined ? {} : { value: value.slice(0, 80) }),
    allowed: FILE_KINDS.join(', '),
  }) as const

async function fileReply(c: Context, { kept, bytes }: SolidFile) {
  const tag = `"${kept.digest}"`
  const headers = { etag: tag, 'cache-control': 'private, no-cache' }
  if (c.req.header('if-none-match') === tag) return c.body(null, 304, headers)
  const content = await bytes()
  if (content === undefined) return cleared(c, kept.path)
  return c.body(new Uint8Array(content), 200, { ...headers, 'content-type': kept.mediaType })
}

function listing(design: string, { kind, kept }: SolidFile, version: string | undefined): SolidListing {
  const { path, title, mediaType, size } = kept
  const inUrl = path.split('/').map(encodeURIComponent).join('/')
  const query = version === undefined ? '' : `?version=${encodeURIComponent(version)}`
  return {
    kind,
    path,
    title,
    mediaType,
    bytes: size,
    href: `/api/designs/${encodeURIComponent(design)}/solids/files/${inUrl}${query}`,
  }
}

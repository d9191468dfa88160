import { createHash } from 'node:crypto'
import type { Design } from '@haspwright/engine'
import type { SolidKind } from '@haspwright/papers/solid'
import { type Register, type Somebody, WORKS_ID } from '@haspwright/register'
import type { Context } from 'hono'
import { may } from '../access/caller.ts'
import { type AppEnv, actorOf, Routes } from '../access/routes.ts'
import { FILE_KINDS, kindOf, type SolidFile, solidsMade } from '../design-solids.ts'
import type { Asked } from '../jobs/job-desk.ts'
import type { JobReplies } from '../jobs/job-replies.ts'
import { madeKey } from '../made-key.ts'
import { badInput, notFound } from '../replies.ts'
import { reportWithRack } from '../solid-report.ts'
import type { SolidListing } from '../wire.ts'

/** The geometry of a design: measures, mesh of the 3D view, files for other programs. Made when first asked for. */
export function solidRoutes({ register, replies }: { register: Register; replies: JobReplies }) {
  /** Files of one kind, as `reply` puts them; what is not made yet is asked for as a job. */
  const answering = async (
    c: Context<AppEnv>,
    kind: SolidKind,
    reply: (files: readonly SolidFile[], design: Design) => Response | Promise<Response>,
  ) => {
    const design = await designOf(register, c)
    if (design === undefined) return noDesign(c)
    const look = async () => (await solidsMade(register.made, design, [kind])).get(kind)
    const files = await look()
    if (files !== undefined) return reply(files, design)
    const asked = solidsWanted(design, [kind], { asker: actorOf(c) })
    return replies.run(c, asked, {
      same: true,
      whenDone: async () => reply((await look()) ?? [], design),
    })
  }
  const single = (kind: 'report' | 'mesh') => (c: Context<AppEnv>) =>
    answering(c, kind, async ([file], design) => {
      if (file === undefined) return notFound(c, 'There is no such file of this design.')
      return kind === 'mesh' ? fileReply(c, file) : fileReply(c, await withRack(register, file, design))
    })
  replies.set('solids', (c) => c.json({ made: true }))
  return new Routes()
    .get('/designs/:id/solids/report', READ, single('report'))
    .get('/designs/:id/solids/mesh', READ, single('mesh'))
    .get('/designs/:id/solids/files', READ, (c) => {
      const kind = FILE_KINDS.find((known) => known === c.req.query('kind'))
      if (kind === undefined) return badInput(c, [whichKind(c.req.query('kind'))])
      return answering(c, kind, (files, design) =>
        c.json({ files: files.map((file) => listing(design.id, file, c.req.query('version'))) }),
      )
    })
    .get('/designs/:id/solids/files/:path{.+}', READ, (c) => {
      const path = c.req.param('path')
      const kind = kindOf(path)
      if (kind === undefined) return noFile(c, path)
      return answering(c, kind, (files) => {
        const found = files.find(({ file }) => file.path === path)
        return found === undefined ? noFile(c, path) : fileReply(c, found)
      })
    })
}

async function designOf(register: Register, c: Context): Promise<Design | undefined> {
  const [id, version] = [c.req.param('id') ?? '', c.req.query('version')]
  const stored = version === undefined ? register.designs.latest(id) : register.designs.version(id, Number(version))
  return (await stored)?.content
}

/** The work of building files of a design's geometry. */
export function solidsWanted(
  design: Design,
  kinds: readonly SolidKind[],
  { asker, isAhead = false }: { asker: Somebody; isAhead?: boolean },
): Asked<'solids'> {
  const workKey = madeKey({ solids: kinds, design })
  return { kind: 'solids', subject: design.id, workKey, asker, request: { design, kinds, isAhead }, isUrgent: !isAhead }
}

/** The report with what of the design hangs on a rack, as the works stands now. */
async function withRack(register: Register, made: SolidFile, design: Design): Promise<SolidFile> {
  const kept = await made.bytes()
  if (kept === undefined) return made
  const works = (await register.works.latest(WORKS_ID))?.content
  const bytes = reportWithRack(kept, { design, works })
  const tag = createHash('sha256').update(bytes).digest('base64url')
  return { ...made, tag, bytes: async () => bytes }
}

const READ = may('designs.read', 'designs:read')

const noFile = (c: Context, path: string) => notFound(c, 'There is no such file of this design.', path)
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

async function fileReply(c: Context, { tag, file, bytes }: SolidFile) {
  const etag = `"${tag}"`
  const headers = { etag, 'cache-control': 'private, no-cache' }
  if (c.req.header('if-none-match') === etag) return c.body(null, 304, headers)
  const content = await bytes()
  if (content === undefined) return cleared(c, file.path)
  return c.body(new Uint8Array(content), 200, { ...headers, 'content-type': file.mediaType })
}

function listing(design: string, { kind, file }: SolidFile, version: string | undefined): SolidListing {
  const { path, title, mediaType, size } = file
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

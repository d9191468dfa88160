import type { Issue } from '@haspwright/engine'
import { type LockMesh, unpackMesh } from '@haspwright/papers/mesh'
import { type FloorClient, floorClient } from './client-floor.ts'
import { askWatched, type JobClient, jobClient, type Watch } from './client-jobs.ts'
import { type PeopleClient, peopleClient } from './client-people.ts'
import type { ApiDocument } from './openapi/api-document.ts'
import type {
  CodeSpaceSummary,
  DesignSolidReport,
  DesignSummary,
  ErrorBody,
  OrderSummary,
  PaperListing,
  PlannedOrder,
  SolidListing,
  SourceListing,
  Stored,
  StoredDesign,
  StoredWorks,
} from './wire.ts'

export type { LockMesh, MeshPart, PlacedMesh } from '@haspwright/papers/mesh'
export {
  APART,
  PERMISSIONS,
  type Permission,
  ROLE_NAMES,
  ROLES,
  type Role,
  rolesThatMay,
  SCOPE_NAMES,
  SCOPES,
  type Scope,
} from './access/roles.ts'
export type { Watch } from './client-jobs.ts'
export type { AcceptedLink, OpenedLink } from './client-people.ts'
export type { ApiDocument, ApiMethod, ApiOperation, ApiParameter, JsonSchema } from './openapi/api-document.ts'
export type {
  CodeAccess,
  CodeAct,
  CodeSpaceSummary,
  DesignSolidReport,
  DesignSummary,
  ErrorBody,
  InvitationListing,
  JobListing,
  LoadListing,
  LockOfLoadListing,
  LockOrigin,
  LotInHandListing,
  LotListing,
  LotRecord,
  LotRelease,
  Me,
  MeasurementListing,
  OperationListing,
  OrderSummary,
  PaperListing,
  PasskeyListing,
  PersonListing,
  PlannedOrder,
  PlanState,
  RenewalListing,
  ReplacementListing,
  SessionListing,
  SolidListing,
  SourceListing,
  Stored,
  StoredDesign,
  StoredWorks,
  TokenListing,
} from './wire.ts'

/** What kind of answer it was that is not a result. */
export type RefusalKind =
  /** The request was wrong; `issues` says where. */
  | 'issues'
  /** Somebody stored something else meanwhile; `conflict` holds theirs and yours. */
  | 'conflict'
  /** Right as it is, but not to be undone: ask again with a reason; `issues` says what. */
  | 'confirm'
  | 'not-found'
  /** Nobody is signed in. */
  | 'not-signed-in'
  /** Not for this person; `issues` says for whom. */
  | 'not-allowed'
  /** Not your fault; `reference` finds it in the server's log. */
  | 'fault'
  /** No answer came: the server is down or the network is. */
  | 'unreachable'

/** Thrown by every function of the client for an answer that is not a result. */
export class ServerRefusal extends Error {
  readonly kind: RefusalKind
  /** HTTP status; 0 where no answer came. */
  readonly status: number
  readonly issues: readonly Issue[]
  readonly reference: string | undefined
  readonly conflict: { readonly stored: Stored<unknown>; readonly given: unknown } | undefined

  constructor(status: number, { issues, fault, conflict }: ErrorBody, cause?: unknown) {
    super(fault?.message ?? issues.map(({ message }) => message).join(' '), { cause })
    this.name = 'ServerRefusal'
    this.kind = issues.some(({ code }) => code === 'needs-confirmation')
      ? 'confirm'
      : kindOf(status, conflict !== undefined)
    this.status = status
    this.issues = issues
    this.reference = fault?.reference
    this.conflict = conflict
  }
}

function kindOf(status: number, showsBoth: boolean): RefusalKind {
  if (status === 0) return 'unreachable'
  if (status === 401) return 'not-signed-in'
  if (status === 403) return 'not-allowed'
  if (status === 404) return 'not-found'
  if (status === 412 || showsBoth) return 'conflict'
  return status >= 500 ? 'fault' : 'issues'
}

/** The server as typed functions; each throws `ServerRefusal` for anything that is not a result. */
export interface Client extends PeopleClient, FloorClient, JobClient {
  /** A page of the orders, the last numbers first. @param before continues a page: its `next` */
  listOrders(before?: string): Promise<OrderPage>
  getOrder(id: string): Promise<PlannedOrder>
  /** Checks, stores and plans an order. The same order again is answered as it is stored; a different one of that number is a conflict. */
  submitOrder(order: unknown, newCodes?: Said, watch?: Watch): Promise<PlannedOrder>
  /** Plans a stored order again with the designs and the works as they stand now. */
  planOrder(id: string, newCodes?: Said, watch?: Watch): Promise<PlannedOrder>
  listDesigns(): Promise<readonly DesignSummary[]>
  getDesign(id: string): Promise<StoredDesign>
  /** Stores a design as the version after `version`; a conflict where somebody was faster. Version 0 stores a new design. */
  saveDesign(id: string, content: unknown, version: number): Promise<StoredDesign>
  /** The lock as triangles, in every state from locked to open. Built on the server when first asked for, which takes seconds. */
  getLockMesh(designId: string, watch?: Watch): Promise<LockMesh>
  /** Volumes, masses, plated areas and the load of a rack, walls, and how the parts stand to each other. */
  getSolidReport(designId: string): Promise<DesignSolidReport>
  /** Files of a design for other programs, to be fetched from their addresses. */
  listSolidFiles(
    designId: string,
    kind: 'step' | '3mf' | 'dxf' | 'svg',
    watch?: Watch,
  ): Promise<readonly SolidListing[]>
  getWorks(): Promise<StoredWorks>
  /** How far the codes of every design have been given out. */
  listCodeSpaces(): Promise<readonly CodeSpaceSummary[]>
  /** Takes a code out of use for good. */
  withdrawCode(design: string, asked: Said & ({ blindCode: string } | { number: string })): Promise<CodeSpaceSummary>
  reserveCodes(design: string, asked: Said & { from: string; to: string }): Promise<CodeSpaceSummary>
  releaseCodes(design: string, id: string, asked: Said): Promise<CodeSpaceSummary>
  /** Takes over codes from before the tool; refused with an issue for each bad line, the line being its value. */
  importCodes(
    design: string,
    asked: Said & { text: string; lowestCut: 0 | 1; setAside: readonly number[] },
  ): Promise<CodeSpaceSummary>
  listPapers(orderId: string, watch?: Watch): Promise<readonly PaperListing[]>
  /** Opens one paper that holds cuts of keys. The server writes down who and why, and keeps no copy. */
  openCodePaper(orderId: string, asked: { path: string; reason: string }): Promise<Blob>
  listSources(): Promise<readonly SourceListing[]>
  /** What this server answers to, as an OpenAPI document. */
  apiDocument(): Promise<ApiDocument>
}

/** A page of the list of orders. */
export interface OrderPage {
  readonly orders: readonly OrderSummary[]
  /** What cannot be read, beside what can. */
  readonly issues: readonly Issue[]
  readonly next?: string
}

/** Why something is done to codes; who does it is known from the sign-in. */
export interface Said {
  readonly reason: string
}

/** A function like `fetch`; tests put the app itself in its place. */
export type Fetcher = (url: string, init?: RequestInit) => Promise<Response> | Response

/** The client of a server; `base` is empty for a page that the server itself delivered. */
export function createClient({
  base = '',
  fetcher = (url, init) => globalThis.fetch(url, init),
}: {
  base?: string
  fetcher?: Fetcher
} = {}): Client {
  async function ask(path: string, init?: RequestInit): Promise<Response> {
    let response: Response
    try {
      response = await fetcher(`${base}${path}`, init)
    } catch (cause) {
      throw new ServerRefusal(0, { issues: [UNREACHABLE] }, cause)
    }
    if (!response.ok) throw new ServerRefusal(response.status, await errorBodyOf(response))
    return response
  }
  // The server's answers are typed by wire.ts on both sides; its own tests hold them to it.
  const get = async <T>(path: string) => (await ask(path)).json() as Promise<T>
  const send = async <T>(method: string, path: string, body: unknown, headers: Record<string, string> = {}) =>
    (await ask(path, jsonRequest(method, body, headers))).json() as Promise<T>
  /** Every page of a list that a page of ours shows whole. */
  const allPages = async <T extends object>(path: string) => {
    const pages: T[] = []
    for (let next: string | undefined = ''; next !== undefined; ) {
      const page: T & { next?: string } = await get(next === '' ? path : `${path}?before=${encodeURIComponent(next)}`)
      pages.push(page)
      next = page.next
    }
    return pages
  }
  const watched = (path: string, watch: Watch | undefined, init: RequestInit = {}) => askWatched(ask, path, init, watch)

  const actOnCodes = async (design: string, act: string, asked: object) =>
    (await send<{ space: CodeSpaceSummary }>('POST', `/api/codes/${encodeURIComponent(design)}/${act}`, asked)).space

  const sendOrAsk = async <T>(method: string, path: string, body?: unknown) =>
    method === 'GET' ? get<T>(path) : send<T>(method, path, body ?? {})

  return {
    ...peopleClient(sendOrAsk),
    ...floorClient(sendOrAsk),
    ...jobClient(ask),
    listOrders: (before) => get(`/api/orders${before === undefined ? '' : `?before=${encodeURIComponent(before)}`}`),
    getOrder: (id) => get(`/api/orders/${encodeURIComponent(id)}`),
    submitOrder: async (order, newCodes, watch) => {
      const body = newCodes === undefined ? order : { order, newCodes }
      return (await watched('/api/orders', watch, jsonRequest('POST', body))).json() as Promise<PlannedOrder>
    },
    planOrder: async (id, newCodes, watch) => {
      const request = jsonRequest('POST', newCodes === undefined ? {} : { newCodes })
      const response = await watched(`/api/orders/${encodeURIComponent(id)}/plan`, watch, request)
      return response.json() as Promise<PlannedOrder>
    },
    listDesigns: async () => {
      const pages = await allPages<{ designs: DesignSummary[] }>('/api/designs')
      return pages.reverse().flatMap(({ designs }) => designs) // the last numbers came first
    },
    getDesign: (id) => get(`/api/designs/${encodeURIComponent(id)}`),
    saveDesign: (id, content, version) =>
      send(
        'PUT',
        `/api/designs/${encodeURIComponent(id)}`,
        content,
        version === 0 ? { 'if-none-match': '*' } : { 'if-match': `"${version}"` },
      ),
    getLockMesh: async (id, watch) => {
      const place = `${solidsOf(id)}/mesh`
      const response = await watched(place, watch)
      // A job's answer says that it is built: it is then fetched from its own address.
      const mesh = response.headers.get('content-type')?.startsWith('application/json') ? await ask(place) : response
      return unpackMesh(await mesh.arrayBuffer())
    },
    getSolidReport: (id) => get(`${solidsOf(id)}/report`),
    listSolidFiles: async (id, kind, watch) => {
      const place = `${solidsOf(id)}/files?kind=${kind}`
      const { files } = (await (await watched(place, watch)).json()) as { files?: SolidListing[] }
      return files ?? (await get<{ files: SolidListing[] }>(place)).files // built as a job, they are then listed
    },
    getWorks: () => get('/api/works'),
    listCodeSpaces: async () => {
      const pages = await allPages<{ spaces: CodeSpaceSummary[] }>('/api/codes')
      return pages.reverse().flatMap(({ spaces }) => spaces)
    },
    withdrawCode: (design, asked) => actOnCodes(design, 'withdrawals', asked),
    reserveCodes: (design, asked) => actOnCodes(design, 'reservations', asked),
    releaseCodes: (design, id, asked) => actOnCodes(design, `reservations/${encodeURIComponent(id)}/release`, asked),
    importCodes: (design, asked) => actOnCodes(design, 'imports', asked),
    listPapers: async (id, watch) => {
      const response = await watched(`/api/orders/${encodeURIComponent(id)}/papers`, watch)
      return ((await response.json()) as { papers: PaperListing[] }).papers
    },
    openCodePaper: async (id, asked) =>
      (await ask(`/api/orders/${encodeURIComponent(id)}/code-papers`, jsonRequest('POST', asked))).blob(),
    listSources: async () => (await get<{ sources: SourceListing[] }>('/api/sources')).sources,
    apiDocument: () => get('/api/openapi.json'),
  }
}

const solidsOf = (designId: string) => `/api/designs/${encodeURIComponent(designId)}/solids`

const UNREACHABLE: Issue = {
  path: '',
  code: 'not-found',
  message: 'The server does not answer. Check that it runs and that this device is on its network, then try again.',
}

function jsonRequest(method: string, body: unknown, headers: Record<string, string> = {}): RequestInit {
  return { method, body: JSON.stringify(body), headers: { 'content-type': 'application/json', ...headers } }
}

async function errorBodyOf(response: Response): Promise<ErrorBody> {
  try {
    const body = (await response.json()) as Partial<ErrorBody>
    return { ...body, issues: body.issues ?? [] }
  } catch {
    const message = `The server answered with status ${response.status} and no explanation.`
    return { issues: [{ path: '', code: 'bad-format', message }] }
  }
}

import type { Design, fullRack, Issue, Order, Sentence, SourceStatus, Works, WorksPlan } from '@haspwright/engine'
import type { SolidReport } from '@haspwright/papers/solid'
import type {
  Access,
  FloorLoad,
  FloorLot,
  FloorOperation,
  Invitation,
  JobState,
  LockOfLoad,
  LotInHand,
  Measurement,
  Origin,
  Person,
  Release,
  Renewal,
  ReplacementRequest,
  ServiceToken,
} from '@haspwright/register'
import type { Permission, Role } from './access/roles.ts'

/** What travels between server and page: plain data, no cuts of keys. */

/** A stored document with the number of its version, counted from 1. */
export interface Stored<T> {
  readonly version: number
  readonly content: T
}

/** Long work that somebody asked for. */
export interface JobListing {
  readonly id: string
  /** hand-in, plan, papers, solids or calculation. */
  readonly kind: string
  /** Number of the order or design, or the calculation. */
  readonly subject: string
  readonly askedBy: string
  readonly askedAt: string
  readonly state: JobState
  /** How much is done, 0 to 1. */
  readonly share: number
  /** What is being done, in words. */
  readonly doing: string
  readonly cancelAsked: boolean
}

/** Where an order's plan stands. */
export type PlanState =
  /** There is a plan, made from the order, designs and works as they are stored now. */
  | 'current'
  /** There is a plan, but a design or the works has changed since: plan again to see the difference. */
  | 'outdated'
  /** A plan is being made. */
  | 'planning'
  /** The order cannot be planned as designs and works stand now; `issues` says why. */
  | 'not-possible'
  | 'none'

/** A row of the list of orders. */
export interface OrderSummary {
  readonly id: string
  readonly version: number
  readonly customer: string
  readonly received: string
  readonly due: string
  readonly locks: number
  readonly designs: readonly string[]
  readonly planState: PlanState
  /** What limits the order; absent while there is no plan. Its `verdict` is the order's. */
  readonly sentence?: Sentence
}

/** An order with its plan. */
export interface PlannedOrder {
  readonly order: Order
  readonly version: number
  readonly planState: PlanState
  /** The last plan made; `null` while there is none. */
  readonly plan: WorksPlan | null
  /** Why there is no current plan, where the state is `not-possible`. */
  readonly issues: readonly Issue[]
}

/** A row of the list of designs. */
export interface DesignSummary {
  readonly id: string
  readonly version: number
  readonly revision: string
  readonly title: string
}

/** Something done to codes, with who, when and why. */
export interface CodeAct {
  /** Runs of issue numbers: `0-9,17`. They say nothing without the key of the works. */
  readonly numbers: string
  readonly count: string
  readonly reason: string
  readonly who: string
  readonly at: string
}

/** What has become of the codes of a design: counts and issue numbers, never a code. Counts are whole numbers as text. */
export interface CodeSpaceSummary {
  readonly design: string
  readonly title: string
  /** Name of the code space; designs with the same discs, values and rules share it. */
  readonly space: string
  readonly discs: number
  readonly values: number
  readonly total: string
  /** Codes that keep the rules; absent where they are out of reach to count. */
  readonly usable?: string
  /** Issue numbers that belong to orders for good; of this and the next four each number counts once. */
  readonly givenOut: string
  readonly withdrawn: string
  /** Given out before the tool came. */
  readonly imported: string
  /** Left out because their key would open a mastered lock. */
  readonly passedOver: string
  readonly reserved: string
  readonly withdrawals: readonly CodeAct[]
  readonly reservations: readonly (CodeAct & { readonly id: string })[]
  readonly imports: readonly (Omit<CodeAct, 'numbers'> & { readonly id: string })[]
  /** Orders that hold them. */
  readonly orders: readonly string[]
}

export type StoredDesign = Stored<Design>
export type StoredWorks = Stored<Works>

/** A sheet, drawing or list of an order. */
export interface PaperListing {
  readonly path: string
  readonly title: string
  readonly mediaType: string
  readonly bytes: number
  /** Holds cuts of keys: no link leads there, it is opened one at a time with a reason. */
  readonly secret: boolean
  /** Where it can be fetched from; absent for a secret paper. */
  readonly href?: string
}

/** What the solids of a design say, and what of it hangs on a rack of the works; `rack` is null where no works file is stored. */
export interface DesignSolidReport extends SolidReport {
  readonly rack: ReturnType<typeof fullRack> | null
}

/** A file of a design's geometry for another program. */
export interface SolidListing {
  readonly kind: string
  readonly path: string
  readonly title: string
  readonly mediaType: string
  readonly bytes: number
  readonly href: string
}

/** A source and everything that rests on it. */
export interface SourceListing {
  readonly id: string
  readonly status: SourceStatus
  readonly citation: string
  readonly place?: string
  readonly note?: string
  /** Ids of the calculations that compute by it. */
  readonly computes: readonly string[]
  /** Ids of the calculations that are checked against it. */
  readonly checks: readonly string[]
}

/** The one shape of everything that is not a result. */
export interface ErrorBody {
  /** What is wrong with the request, all at once; empty where it is our fault. */
  readonly issues: readonly Issue[]
  /** Our fault, not yours; `reference` finds it in the server's log. */
  readonly fault?: { readonly reference: string; readonly message: string }
  /** What is stored already, beside what was sent. */
  readonly conflict?: { readonly stored: Stored<unknown>; readonly given: unknown }
}

/** Who is signed in, and what they may do here and now. */
export type Me =
  | { readonly signedIn: false; readonly awaitsSetUp: boolean }
  | {
      readonly signedIn: true
      readonly id: string
      readonly name: string
      readonly email: string
      readonly roles: readonly Role[]
      readonly hasSecondFactor: boolean
      /** This session was opened with it. */
      readonly secondFactor: boolean
      readonly may: readonly Permission[]
      /** What their roles give besides, but only to a session that was opened with a second factor. */
      readonly mayWithSecondFactor: readonly Permission[]
    }

export interface SessionListing {
  readonly id: string
  readonly address: string
  readonly device: string
  readonly secondFactor: boolean
  readonly since: string
  /** The one that asks. */
  readonly current: boolean
}

export interface PasskeyListing {
  readonly id: string
  readonly name: string
  readonly since?: string
  /** It may be on several devices of its owner. */
  readonly leavesTheDevice: boolean
}

/** A person, as the administrator sees them. */
export interface PersonListing extends Person {
  /** They reach codes or decide on renewals, or once did: their password and second factor are renewed by two people. */
  readonly renewedByTwo: boolean
}

/** A request to let somebody in anew who may see codes. */
export type RenewalListing = Renewal

/** A link that still lets somebody in; the link itself is kept nowhere. */
export type InvitationListing = Invitation

/** A service account; of its token only the beginning. */
export type TokenListing = ServiceToken

/** Somebody saw codes, or did something to them. */
export type CodeAccess = Access

/** A request that replacement keys may be cut. */
export type ReplacementListing = ReplacementRequest

/** A lot whose stacks and keys a builder may see. */
export type LotInHandListing = LotInHand

/** A lot on the floor. */
export type LotListing = FloorLot
/** A step done to a lot. */
export type OperationListing = FloorOperation
/** A value measured on a lot; one with `replacedBy` counts no more. */
export type MeasurementListing = Measurement
/** What shares one furnace charge, one rack or one barrel. */
export type LoadListing = FloorLoad
/** A lock that shared a load. */
export type LockOfLoadListing = LockOfLoad
/** Lot and bar heats a lock came from. */
export type LockOrigin = Origin
/** A lot that an inspector let go, with what was known of it. */
export type LotRelease = Release

/** All that is recorded of a lot. */
export interface LotRecord {
  readonly lot: LotListing
  /** Heats its bars were of. */
  readonly heats: readonly string[]
  readonly loads: readonly LoadListing[]
  readonly operations: readonly OperationListing[]
  readonly measurements: readonly MeasurementListing[]
}

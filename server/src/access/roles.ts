/** What somebody may be allowed to do, in words that complete "may …". */
export const PERMISSIONS = {
  'orders.read': { may: 'see orders, their plans and the papers without codes' },
  'orders.write': { may: 'hand in orders and plan them again' },
  'designs.read': { may: 'see designs and the works' },
  'designs.write': { may: 'store new versions of designs' },
  'calculations.use': { may: 'use the calculations and read their sources' },
  'codes.count': { may: 'see how far codes have been given out: counts and issue numbers' },
  'codes.act': { may: 'withdraw, reserve and take over codes, and replace codes that were seen', secondFactor: true },
  'codes.see': { may: 'open any paper with codes, each time with a reason', secondFactor: true },
  'codes.see-in-hand': { may: 'open the stacks and keys of a lot in hand, each time with a reason' },
  'codes.log': { may: 'read who saw which code and why', secondFactor: true },
  'lots.give': { may: 'give a lot into the hands of a builder, and take it back' },
  'lots.open': { may: 'open lots of an order' },
  'floor.record': { may: 'record what is done and measured on the floor: loads, operations, measurements' },
  'lots.release': { may: 'release a lot' },
  'replacements.ask': { may: 'ask that a replacement key be cut' },
  'replacements.decide': {
    may: 'approve or refuse a replacement key that somebody else asked for',
    secondFactor: true,
  },
  'renewals.decide': {
    may: 'approve or refuse that somebody who reaches codes is let in anew, which somebody else asked for',
    secondFactor: true,
  },
  'people.manage': { may: 'invite people, give them roles and shut them out', secondFactor: true },
  'tokens.manage': { may: 'make and revoke tokens of service accounts', secondFactor: true },
} as const satisfies Record<string, { may: string; secondFactor?: true }>
export type Permission = keyof typeof PERMISSIONS

const EVERYBODY = ['orders.read', 'designs.read', 'calculations.use'] as const

/** The one table of who may do what. */
export const ROLES = {
  engineer: {
    title: 'Production engineer',
    does: 'designs the family, sets the processes, reads the margins, signs the works plan',
    may: [...EVERYBODY, 'orders.write', 'designs.write', 'codes.count', 'lots.open', 'floor.record'],
  },
  planner: {
    title: 'Planner',
    does: 'turns orders into lots, loads and due dates',
    may: [...EVERYBODY, 'orders.write', 'codes.count', 'lots.give', 'lots.open'],
  },
  operator: {
    title: 'Operator',
    does: 'works by job cards and records what was measured',
    may: [...EVERYBODY, 'floor.record'],
  },
  builder: {
    title: 'Key cutter and lock builder',
    does: 'cuts the keys and builds the stacks of the lot in hand, and proves each lock before it is closed',
    may: [...EVERYBODY, 'codes.see-in-hand', 'floor.record'],
  },
  inspector: {
    title: 'Inspector',
    does: 'samples, gauges and tests, and decides on release',
    may: [...EVERYBODY, 'floor.record', 'lots.release'],
  },
  registrar: {
    title: 'Key registrar',
    does: 'owns the codes: issue, charts, replacement keys, who saw which code',
    may: [
      ...EVERYBODY,
      'codes.count',
      'codes.act',
      'codes.see',
      'codes.log',
      'lots.give',
      'replacements.ask',
      'replacements.decide',
      'renewals.decide',
    ],
  },
  administrator: {
    title: 'Administrator',
    does: 'looks after people and tokens, and sees no codes',
    may: ['people.manage', 'tokens.manage', 'renewals.decide'],
  },
} as const satisfies Record<string, { title: string; does: string; may: readonly Permission[] }>
export type Role = keyof typeof ROLES
export const ROLE_NAMES = Object.keys(ROLES) as [Role, ...Role[]] // keys of the table above

/** Whoever lets people in must not be let at the codes, nor the other way round. */
export const APART: readonly (readonly [Role, Role])[] = [
  ['administrator', 'registrar'],
  ['administrator', 'builder'],
]

/** What a token of a service account can be good for. Codes are in none of them. */
export const SCOPES = {
  'orders:read': 'see orders and their plans',
  'orders:write': 'hand in orders, as JSON or CSV',
  'papers:read': 'fetch papers and certificates without codes',
  'designs:read': 'see designs and the works',
} as const
export type Scope = keyof typeof SCOPES
export const SCOPE_NAMES = Object.keys(SCOPES) as [Scope, ...Scope[]] // keys of the table above

export const isRole = (text: string): text is Role => Object.hasOwn(ROLES, text)

/** Does this permission want a second factor, whatever role gives it? */
export const wantsSecondFactor = (permission: Permission): boolean => 'secondFactor' in PERMISSIONS[permission]

export function mayOf(roles: readonly string[], permission: Permission): boolean {
  return roles.some((role) => isRole(role) && (ROLES[role].may as readonly Permission[]).includes(permission))
}

/**
 * Are people of these roles let in anew by two people? Those who reach codes, lest one person take their place; and those who decide
 * on it, lest one person take both places.
 */
export const renewedByTwo = (roles: readonly string[]): boolean =>
  (['codes.see', 'codes.act', 'renewals.decide'] as const).some((permission) => mayOf(roles, permission))

/** Titles of the roles that may do this. */
export const rolesThatMay = (permission: Permission): string[] =>
  ROLE_NAMES.filter((role) => mayOf([role], permission)).map((role) => ROLES[role].title)

/** Two of these roles that one person must not have together. */
export const clashIn = (roles: readonly string[]) =>
  APART.find(([one, other]) => roles.includes(one) && roles.includes(other))

/** Somebody who does something that is recorded. */
export interface Somebody {
  /** The number of a person or of a service account. */
  readonly id: string
  readonly name: string
}

/** As events and the access log name them: names may be alike, numbers are not. */
export const actorText = ({ id, name }: Somebody) => `${name} (${id})`

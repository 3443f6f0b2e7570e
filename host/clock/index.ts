/** The only clock of the house. Below `host` a moment is an argument. */
export interface Moment {
  readonly time: string
  readonly known: 'clock of this computer'
}

/** Now, as ISO 8601 in UTC with milliseconds, and how it is known: a computer's clock may be wrong. */
export const now = (): Moment => ({ time: new Date().toISOString(), known: 'clock of this computer' })

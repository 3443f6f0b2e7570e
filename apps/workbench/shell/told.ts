/** A refusal as it is shown. */
export interface Told {
  readonly code: string
  readonly found: string
  readonly needed: string
  readonly remedy: string
  readonly where?: { readonly path?: string | undefined } | undefined
}

export interface Unrun {
  readonly file: string
  readonly name: string
  readonly reason: string | undefined
}
export interface Tally {
  readonly passed: number
  readonly failed: number
  readonly skipped: readonly Unrun[]
  readonly notApplicable: readonly Unrun[]
}
/** The part of Vitest's JSON report that is counted. */
export interface Report {
  readonly testResults: readonly {
    readonly name: string
    readonly status: string
    readonly assertionResults: readonly {
      readonly status: string
      readonly ancestorTitles: readonly string[]
      readonly title: string
    }[]
  }[]
}
export declare function tallyOf(report: Report | undefined, exitCode: number): Tally
export declare function sum(tallies: readonly Tally[]): Tally
export declare function lastLine(tally: Tally): string

import type { Tally } from './tally.mjs'
export interface Stage {
  readonly name: string
  readonly tally: Tally
  readonly ms: number
}
export declare function closingTable(stages: readonly Stage[], total: Tally): string[]

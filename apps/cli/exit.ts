import type { Refusal } from '@trueloop/ground/refusal'

/** Exit codes of every command. */
export const exit = {
  done: 0,
  waiting: 1,
  refused: 2,
  archive: 3,
  wrongUse: 64,
  defect: 70,
  interrupted: 130
} as const

export type Exit = (typeof exit)[keyof typeof exit]

/** Rooms whose refusals mean that the archive, not the input, is in the way. */
const archiveRooms = ['archive', 'record']

const isOfArchive = ({ code }: Refusal): boolean => archiveRooms.includes(code.split('/')[0] ?? '')

/** Of several refusals the archive's rules: nothing can be recorded there, whatever the input is like. */
export const exitOf = (refusals: readonly Refusal[]): Exit =>
  refusals.length === 0 ? exit.done : refusals.some(isOfArchive) ? exit.archive : exit.refused

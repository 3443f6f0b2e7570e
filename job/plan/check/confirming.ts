import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import { type OtherSetUp, setUpOfRecording } from '../confirming.ts'
import type { HoleSheet } from '../sheet.ts'
import { pathText } from '../where.ts'

/** Scans that confirm: each of something earlier, each on a standardization of its own set-up. */

type Recording = HoleSheet['recordings'][number]
type HoleRecording = Extract<Recording, { of: 'hole' }>

export const checkConfirming = (sheet: HoleSheet): readonly Refusal[] => [
  ...sheet.recordings.flatMap((one, index) => (one.of === 'hole' ? target(sheet, one, index) : [])),
  ...setUps(sheet),
  ...secondFrequency(sheet)
]

function target({ recordings }: HoleSheet, one: HoleRecording, index: number): readonly Refusal[] {
  const { confirms, after, hole, file } = one
  if (confirms === undefined) {
    return after === undefined ? [] : [nothing('after', index, `"${after}" without a word on what it confirms`, hole)]
  }
  if (after === undefined) return [nothing('after', index, `${file} confirms ${confirms}, and not by what`, hole)]
  const before = recordings.slice(0, index).filter((each) => each.of === 'hole' && each.hole === hole)
  const isIndication = confirms.startsWith(`${hole}/`) && /^[1-9]\d*$/.test(confirms.slice(hole.length + 1))
  const isKnown = before.some((each) => each.file === confirms) || (isIndication && before.length > 0)
  return isKnown ? [] : [nothing('confirms', index, `"${confirms}"`, hole)]
}

const nothing = (key: 'confirms' | 'after', index: number, found: string, hole: string): Refusal =>
  refuse('plan/nothing-to-confirm', {
    found,
    needed: `confirms: an earlier recording of hole ${hole}, or an indication of the scan before it, such as ${hole}/1; after: what was done otherwise`,
    remedy: 'write both, or neither for a scan that confirms nothing',
    where: { path: pathText(['recordings', index, key]) }
  })

/** Each scan and recheck stands on the reference scan before it: both for the same set-up. */
function setUps({ recordings }: HoleSheet): readonly Refusal[] {
  let inForce: OtherSetUp | undefined
  return recordings.flatMap((one, index) => {
    const own = setUpOfRecording(one)
    if (one.of === 'reference') inForce = own
    return own === inForce ? [] : [differs({ own, inForce, key: one.of === 'hole' ? 'after' : 'set_up', index })]
  })
}

interface Differing {
  readonly own: string | undefined
  readonly inForce: string | undefined
  readonly key: string
  readonly index: number
}

const named = (setUp: string | undefined): string => setUp ?? 'the first of the technique'

const differs = ({ own, inForce, key, index }: Differing): Refusal =>
  refuse('plan/set-up-differs', {
    found: `a set-up (${named(own)}) under a reference scan for another (${named(inForce)})`,
    needed: 'a reference scan of that very set-up before it: amplitude and angle hold for nothing else',
    remedy: 'scan the reference standard with that set-up, and name the scan before this one with its set_up',
    where: { path: pathText(['recordings', index, key]) }
  })

function secondFrequency({ recordings, technique }: HoleSheet): readonly Refusal[] {
  if (technique.second_frequency_kHz !== undefined) return []
  const index = recordings.findIndex((one) => setUpOfRecording(one) === 'second frequency')
  if (index < 0) return []
  return [
    refuse('plan/missing-value', {
      found: 'a recording with a second frequency, which the technique does not have',
      needed: 'technique.second_frequency_kHz, as the procedure has it',
      remedy: 'write it, or confirm in another way',
      where: { path: 'technique.second_frequency_kHz' }
    })
  ]
}

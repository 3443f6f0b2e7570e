import { type HoleSheet, momentOf, setUpOfRecording } from '../../plan/index.ts'
import { canonical } from '../../record/index.ts'

/** Where in a sheet a recording may be put in, and when it was taken then. */

type Recording = HoleSheet['recordings'][number]
export type HoleRecording = Extract<Recording, { of: 'hole' }>

/** The first reference scan for the first set-up of the technique; undefined where the sheet has none. */
export const ownReferenceIn = ({ recordings }: HoleSheet): Recording | undefined =>
  recordings.find((one) => one.of === 'reference' && setUpOfRecording(one) === undefined)

/**
 * Numbers of the recordings of holes that another may follow: under that reference scan, of the same columns and equipment,
 * before a recheck where there is any, and not between a scan and the one that confirms it.
 */
export function placesIn(sheet: HoleSheet): readonly number[] {
  const { recordings } = sheet
  const reference = ownReferenceIn(sheet)
  if (reference === undefined) return []
  const from = recordings.indexOf(reference)
  const next = recordings.findIndex(({ of }, at) => at > from && of === 'reference')
  const under = recordings.slice(0, next < 0 ? recordings.length : next)
  const recheck = under.findLastIndex(({ of }) => of === 'recheck')
  const to = recheck < 0 ? under.length : recheck
  const like = alike(reference)
  return under.flatMap((one, at) => {
    const isPlace = at > from && at < to && one.of === 'hole' && setUpOfRecording(one) === undefined
    return isPlace && alike(one) === like && !confirms(recordings[at + 1]) ? [at] : []
  })
}

const alike = ({ columns, equipment }: Recording): string =>
  canonical({ columns: columns ?? null, equipment: equipment ?? null })

const confirms = (one: Recording | undefined): boolean => one?.of === 'hole' && one.confirms !== undefined

export interface Between {
  readonly before: string | undefined
  readonly after: string | undefined
  /** 0 to 1 of the way */
  readonly share: number
}

/**
 * A time between two others, as the first is written, in whole minutes where both are; undefined where one has none. Where
 * it would lie on the next day it is the first of the two.
 */
export function timeBetween({ before, after, share }: Between): string | undefined {
  const [from, to] = [before, after].map((one) => (one === undefined ? undefined : momentOf(one)))
  const [, day, hour, minute, second, offset = ''] = taken.exec(before ?? '') ?? []
  if (from === undefined || to === undefined || day === undefined) return undefined
  const step = from.seconds % 60 === 0 && to.seconds % 60 === 0 ? 60 : 1
  const later = step * Math.floor((share * (to.seconds - from.seconds)) / step)
  const seconds = 3600 * Number(hour) + 60 * Number(minute) + Math.floor(Number(second ?? 0)) + later
  if (seconds >= 86_400 || later === 0) return before
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60].map(two)
  return `${day}T${h}:${m}${second === undefined && s === '00' ? '' : `:${s}`}${offset}`
}

const taken = /^(\d{4}-\d\d-\d\d)T(\d\d):(\d\d)(?::(\d\d(?:\.\d+)?))?(.*)$/

const two = (value: number): string => String(value).padStart(2, '0')

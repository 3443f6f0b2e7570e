import { type BracketRules, type Happening, type Standing, standingsOf, type Voided } from '../brackets.ts'
import type { Order } from './order.ts'

/** What the standing of scans needs of the record beside what happened. */
export interface Placing {
  /** place of the entry by which a recording was kept */
  readonly placeOf: (recording: string) => number
  readonly order: Order
  /** recordings whose facts are not sure */
  readonly doubtful: ReadonlySet<string>
  readonly rules: BracketRules
}

/**
 * How every scan stands where two devices worked apart. A check by one device speaks for the other's scans only where both
 * rely on set-ups begun before they parted. Then a failed one whose place is not known voids in the wider sense: all that may have
 * been scanned on its wrong side. A good one closes only what is known to lie before it.
 */
export function standingsApart(happenings: readonly Happening[], placing: Placing): readonly (Standing | undefined)[] {
  if (placing.order.isPlain) return standingsOf(happenings, placing.rules)
  return happenings.map((one) => (one.what === 'scan' ? standingOf(one, happenings, placing) : undefined))
}

function standingOf(scan: Happening, happenings: readonly Happening[], placing: Placing): Standing {
  if (placing.doubtful.has(scan.recording)) return keptTwice
  const heard = happenings.filter((one) => one === scan || scan.isUnsure === true || speaks(one))
  const concerning = heard.filter((one) => concerns(one, scan, placing))
  const beside = concerning.find((one) => endangers(one) && !isKnown(one, scan, placing))
  if (beside !== undefined) return besideTrouble(beside)
  const known = concerning.filter((one) => one === scan || isKnown(one, scan, placing))
  const views = [...earlyViews(known, placing), known]
  return worst(views.flatMap((view) => inView(scan, view, placing)))
}

/** What may take from a scan that it counts, wherever it lies in the order. */
const endangers = ({ what, since }: Happening): boolean => what === 'failed' || since !== undefined

const isVoided = ({ standing }: Standing): boolean => standing === 'voided'

/** Another scan says something about this one only by what was changed before it. */
const speaks = ({ what, since }: Happening): boolean => what !== 'scan' || since !== undefined

const keptTwice: Voided = { standing: 'voided', why: 'two devices kept this recording with other facts' }

const besideTrouble = ({ recording, what }: Happening): Voided => {
  const why = what === 'failed' ? 'a recheck failed' : 'something was changed'
  return {
    ...{ standing: 'voided', why: `${why} on another device, and nobody knows on which side of it this was scanned` },
    ...(what === 'failed' ? { by: recording } : {})
  }
}

const inView = (scan: Happening, view: readonly Happening[], { rules }: Placing): readonly Standing[] => {
  const at = view.indexOf(scan)
  const standing = at < 0 ? undefined : standingsOf(view, rules)[at]
  return standing === undefined ? [] : [standing]
}

/** Every failure and change as early as it can have been: only what is known to lie before it, before it. */
const earlyViews = (happenings: readonly Happening[], { order, placeOf }: Placing) =>
  happenings.filter(endangers).map((trouble) => {
    const others = happenings.filter((one) => one !== trouble)
    const isBefore = (one: Happening) => order.isBefore(placeOf(one.recording), placeOf(trouble.recording))
    return [...others.filter(isBefore), trouble, ...others.filter((one) => !isBefore(one))]
  })

/** Voided in one order is voided; only what is closed in all of them is closed. */
function worst(all: readonly Standing[]): Standing {
  const found = all.find(isVoided) ?? all.find(({ standing }) => standing === 'provisional')
  return found ?? all[0] ?? { standing: 'provisional', why: 'no good recheck after it' }
}

function isKnown(a: Happening, b: Happening, { order, placeOf }: Placing): boolean {
  const [one, other] = [placeOf(a.recording), placeOf(b.recording)]
  return order.isBefore(one, other) || order.isBefore(other, one)
}

/** In one chain everything concerns what comes after and before it; across two, only what rests on a common set-up. */
function concerns(one: Happening, scan: Happening, { order, placeOf }: Placing): boolean {
  const [a, b] = [placeOf(one.recording), placeOf(scan.recording)]
  if (a === b || order.inChain(a, b) || order.inChain(b, a)) return true
  return order.inChain(placeOf(one.setUp), b) && order.inChain(placeOf(scan.setUp), a)
}

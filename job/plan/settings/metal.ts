import { fromTrade, type Quantity, toTrade } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Base, conductivityAt, type Material, type Stated, withMeasured } from '@trueloop/metal/materials'
import { refuse } from '../codes.ts'
import { magnetismOf, rowOf } from '../magnetism.ts'
import type { Allowed } from '../winding.ts'

/** A value and how far it may be off; low and high are the value itself where no limits are known. */
export interface Span {
  readonly value: number
  readonly low: number
  readonly high: number
}

/** A metal as settings are worked out for it: conductivity in S/m, as far as temperature and alloy let it move. */
export interface PlannedMetal {
  readonly name: string
  readonly base?: Base
  readonly conductivity: Span
  readonly permeability: Span
  /** Where these figures come from, for a person to read. */
  readonly source: string
  /** What of them a person has to confirm or state. */
  readonly notes: readonly string[]
}

type Stating = NonNullable<Allowed['conductivity']>[number]

const plain = (name: string): string => name.trim().toLowerCase()

/**
 * Conductivity and permeability of a layer: what the technique states for it, else the table of materials. Stated limits have
 * to lie within those of the table; temperature moves them further where the base metal has a coefficient.
 * Refuses: plan/metal-unknown, materials/outside-range, materials/no-source, materials/outside-temperature.
 */
export function metalFor(name: string, allowed: Allowed | undefined): Result<PlannedMetal> {
  const stated = allowed?.conductivity?.find(({ metal }) => plain(metal) === plain(name))
  const row = rowOf(name)
  if (row === undefined && stated === undefined) return unknownMetal(name)
  const at20 = stated === undefined ? spanIn_S_per_m(row!.conductivity_IACS) : statedSpan(stated, row)
  if (isRefusal(at20)) return at20
  const permeability = row === undefined ? permeabilityByName(name) : spanOf(row.permeability)
  if (isRefusal(permeability)) return permeability
  const warmed = atTemperatures(at20, row?.base, allowed?.temperature_C)
  if (isRefusal(warmed)) return warmed
  return {
    name,
    ...(row === undefined ? {} : { base: row.base }),
    conductivity: warmed.span,
    permeability,
    source: stated?.source ?? `table of materials, ${row!.name}: ${row!.conductivity_IACS.source}`,
    notes: [...noteOfLimits(row, stated), ...noteOfPermeability(row), ...warmed.notes]
  }
}

const spanOf = ({ value, low, high }: Stated): Span => {
  const middle = value ?? Math.sqrt((low ?? 1) * (high ?? low ?? 1))
  return { value: middle, low: low ?? middle, high: high ?? middle }
}

const siemens = (iacs: number): Quantity<'S/m'> => fromTrade(iacs, '%IACS')

function spanIn_S_per_m(stated: Stated): Span {
  const { value, low, high } = spanOf(stated)
  return { value: siemens(value), low: siemens(low), high: siemens(high) }
}

function statedSpan({ low_IACS, high_IACS, source }: Stating, row: Material | undefined): Result<Span> {
  const span = { value: siemens((low_IACS + high_IACS) / 2), low: siemens(low_IACS), high: siemens(high_IACS) }
  if (row === undefined) return span
  for (const end of [span.low, span.high]) {
    const within = withMeasured(row, { conductivity: end as Quantity<'S/m'>, source })
    if (isRefusal(within)) return within
  }
  return span
}

/** No row, but a stated conductivity: only what is surely not magnetic has a permeability then. */
const permeabilityByName = (name: string): Result<Span> =>
  magnetismOf(name) === 'not ferromagnetic'
    ? { value: 1, low: 1, high: 1 }
    : refuse('plan/metal-unknown', {
        found: `"${name}", whose permeability nothing tells`,
        needed: 'a metal of the table of materials, or one that is not ferromagnetic by its name',
        remedy: 'name alloy and temper as the table of materials does'
      })

const unknownMetal = (name: string): Result<never> =>
  refuse('plan/metal-unknown', {
    found: `"${name}"`,
    needed: 'an alloy with its temper, as the table of materials has it, or its conductivity with a source',
    remedy: 'name the alloy (for example "aluminum 7075-T6"), or state technique.allowed.conductivity for it'
  })

const noteOfLimits = (row: Material | undefined, stated: Stating | undefined): readonly string[] => {
  if (stated !== undefined || row === undefined) return []
  const { low, limits, standing } = row.conductivity_IACS
  if (low === undefined) return [`no limits of the conductivity of ${row.name} are known: it may be off by any amount`]
  return (limits ?? standing) === 'proposed'
    ? [`limits of the conductivity of ${row.name} are from memory: to be confirmed from the specification`]
    : []
}

const noteOfPermeability = (row: Material | undefined): readonly string[] =>
  row?.permeability.standing === 'proposed' && (row.permeability.high ?? 1) > 2
    ? [`permeability of ${row.name} from memory, and it moves with heat treatment`]
    : []

interface Warmed {
  readonly span: Span
  readonly notes: readonly string[]
}

/** Warmer metal conducts less: the low end falls at the highest temperature, the high end rises at the lowest. */
function atTemperatures(span: Span, base: Base | undefined, range: Allowed['temperature_C']): Result<Warmed> {
  if (range === undefined) return { span, notes: [] }
  const moved = (end: number, celsius: number) =>
    base === undefined ? undefined : conductivityAt(end as Quantity<'S/m'>, base, celsius)
  const low = moved(span.low, range.high)
  const high = moved(span.high, range.low)
  if (low === undefined || high === undefined) return { span, notes: [noCoefficient(base)] }
  if (isRefusal(low)) return low.code === 'materials/no-temperature-law' ? { span, notes: [noCoefficient(base)] } : low
  if (isRefusal(high)) return high
  return { span: { value: span.value, low: Math.min(low, span.low), high: Math.max(high, span.high) }, notes: [] }
}

const noCoefficient = (base: Base | undefined): string =>
  `no temperature coefficient is known for ${base ?? 'this metal'}: temperature is not in these figures`

/** For a person: 28.5 to 32.5 %IACS. */
export function conductivityText({ conductivity: { low, high } }: PlannedMetal): string {
  const [from, to] = [low, high].map((end) => toTrade(end as Quantity<'S/m'>, '%IACS').toFixed(1))
  return from === to ? `${from} %IACS` : `${from} to ${to} %IACS`
}

import type { Result } from '../refusal/index.ts'
import { type QuantityCode, refuse } from './codes.ts'
import type { Quantity, SiUnit } from './quantity.ts'
import { rowOf, type SiOf, type TradeUnit, unitsFor, unitWritten } from './units.ts'

/** A number in a trade unit as an SI quantity. Throws RangeError for NaN. */
export function fromTrade<T extends TradeUnit>(value: number, unit: T): Quantity<SiOf<T>> {
  if (Number.isNaN(value)) throw new RangeError(`NaN is no quantity in ${unit}`)
  const { times, per } = rowOf(unit)
  return ((value * times) / per) as Quantity<SiOf<T>>
}

/** An SI quantity as a number in a trade unit. */
export function toTrade<U extends SiUnit>(value: Quantity<U>, unit: TradeUnit<U>): number {
  const { times, per } = rowOf(unit)
  return (value * per) / times
}

/**
 * The quantity as a person reads it: `digits` places after the point (0 … 12), then the unit: `6.35 mm`, `95°`.
 * Throws RangeError for a value that is not finite, and for other digits: neither may reach a page.
 */
export function printQuantity<U extends SiUnit>(value: Quantity<U>, unit: TradeUnit<U>, digits: number): string {
  const number = toTrade(value, unit)
  if (!Number.isFinite(number)) throw new RangeError(`${number} ${unit} can not be printed`)
  if (!(digits >= 0 && digits <= 12)) throw new RangeError(`from 0 to 12 places can be printed, not ${digits}`)
  const text = number.toFixed(digits)
  return (Number(text) === 0 ? text.replace('-', '') : text) + (rowOf(unit).printed ?? ` ${unit}`)
}

/** Sign, then `1/4`, `1 1/4`, `1-1/4`, or a decimal number with a point and perhaps an exponent; then the unit. */
const WRITTEN =
  /^(?<sign>[+\u2212-]?)\s*(?:(?:(?<whole>\d+)[ -])?(?<top>\d+)\s*\/\s*(?<bottom>\d+)|(?<decimal>(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?))\s*(?<unit>[^\d\s.,+-].*)?$/u

/**
 * Reads a number with its unit as the trade writes it, for a quantity kept in `unit`: `6.35 mm`, `1/4 in`, `1-1/4 in`,
 * `500 kHz`, `1500 rpm`, `32 %IACS`, `12 dB`, `95 deg`. A number without a unit is refused: nothing is guessed.
 * Refuses: quantity/not-a-number, quantity/unknown-unit, quantity/wrong-dimension.
 */
export function parseQuantity<U extends SiUnit>(text: string, unit: U): Result<Quantity<U>, QuantityCode> {
  const parts = WRITTEN.exec(text.trim())?.groups
  const number = parts === undefined ? Number.NaN : numberIn(parts)
  if (!Number.isFinite(number)) return notANumber(text, unit)
  const row = unitWritten(parts?.unit ?? '')
  if (row === undefined) return unknownUnit(text, parts?.unit, unit)
  if (row.si !== unit) return wrongDimension(text, row.name, unit)
  return ((number * row.times) / row.per) as Quantity<U>
}

function numberIn({ sign, whole, top, bottom, decimal }: Readonly<Record<string, string | undefined>>): number {
  const size = decimal === undefined ? Number(whole ?? 0) + Number(top) / Number(bottom) : Number(decimal)
  return sign === '-' || sign === '\u2212' ? -size : size
}

const example = (unit: SiUnit): string => `1 ${unitsFor(unit)[0]}`

function notANumber(text: string, unit: SiUnit): Result<never, QuantityCode> {
  return refuse('quantity/not-a-number', {
    found: `"${text}"`,
    needed: `a number with a unit, such as ${example(unit)}`,
    remedy: 'write one number with a decimal point (no comma, no thousands separator) or a fraction such as 1/4'
  })
}

function unknownUnit(text: string, written: string | undefined, unit: SiUnit): Result<never, QuantityCode> {
  return refuse('quantity/unknown-unit', {
    found: written === undefined ? `"${text}" without a unit` : `"${text}" with the unit "${written}"`,
    needed: `one of the units ${unitsFor(unit).join(', ')}`,
    remedy: 'write the unit after the number; capitals matter'
  })
}

function wrongDimension(text: string, name: string, unit: SiUnit): Result<never, QuantityCode> {
  return refuse('quantity/wrong-dimension', {
    found: `"${text}", which is given in ${name}`,
    needed: `one of the units ${unitsFor(unit).join(', ')}`,
    remedy: 'check which value was meant: it was given in a unit of another kind'
  })
}

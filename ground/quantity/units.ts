import type { SiUnit } from './quantity.ts'

/**
 * One unit of the trade: value in SI = value * times / per. Both are exact doubles (but for the degree), so that a decimal value of
 * the trade becomes the double nearest to it wherever value * times is exact.
 */
export interface TradeUnitRow {
  readonly name: string
  readonly si: SiUnit
  readonly times: number
  readonly per: number
  /** How it follows a printed number; a space and the name where absent. */
  readonly printed?: string
  /** Other spellings that are read; never printed. */
  readonly also: readonly string[]
  /** Key of the work that fixes the factor, or `definition` where the unit is ours. */
  readonly source: string
}

/** Conductivity of the International Annealed Copper Standard at 20 °C, 100 %IACS, in S/m: 1 / (0.017 241 ohm mm²/m), by definition 58 MS/m. */
const IACS_SIEMENS_PER_METER = 58_000_000

/** All units that are read and printed. A unit is added here and nowhere else. */
export const tradeUnits = [
  { name: 'm', si: 'm', times: 1, per: 1, also: ['meter', 'meters'], source: 'bipm-si-2019' },
  { name: 'cm', si: 'm', times: 1, per: 100, also: [], source: 'bipm-si-2019' },
  { name: 'mm', si: 'm', times: 1, per: 1000, also: ['millimeter', 'millimeters'], source: 'bipm-si-2019' },
  { name: 'µm', si: 'm', times: 1, per: 1_000_000, also: ['micron', 'microns'], source: 'bipm-si-2019' },
  { name: 'in', si: 'm', times: 254, per: 10_000, also: ['inch', 'inches', '"', '″'], source: 'nist-sp811-2008' },
  { name: 'mil', si: 'm', times: 254, per: 10_000_000, also: ['mils', 'thou'], source: 'nist-sp811-2008' },
  { name: 'ft', si: 'm', times: 3048, per: 10_000, also: ['foot', 'feet'], source: 'nist-sp811-2008' },
  { name: 's', si: 's', times: 1, per: 1, also: ['sec', 'second', 'seconds'], source: 'bipm-si-2019' },
  { name: 'ms', si: 's', times: 1, per: 1000, also: ['msec'], source: 'bipm-si-2019' },
  { name: 'µs', si: 's', times: 1, per: 1_000_000, also: [], source: 'bipm-si-2019' },
  { name: 'ns', si: 's', times: 1, per: 1_000_000_000, also: [], source: 'bipm-si-2019' },
  { name: 'min', si: 's', times: 60, per: 1, also: [], source: 'bipm-si-2019' },
  { name: 'h', si: 's', times: 3600, per: 1, also: [], source: 'bipm-si-2019' },
  { name: 'Hz', si: 'Hz', times: 1, per: 1, also: ['hz', '1/s'], source: 'bipm-si-2019' },
  { name: 'kHz', si: 'Hz', times: 1000, per: 1, also: ['KHz', 'khz'], source: 'bipm-si-2019' },
  { name: 'MHz', si: 'Hz', times: 1_000_000, per: 1, also: [], source: 'bipm-si-2019' },
  { name: 'rad', si: 'rad', times: 1, per: 1, also: [], source: 'bipm-si-2019' },
  {
    name: 'deg',
    si: 'rad',
    times: Math.PI,
    per: 180,
    printed: '°',
    also: ['°', 'degree', 'degrees'],
    source: 'bipm-si-2019'
  },
  { name: 'V', si: 'V', times: 1, per: 1, also: [], source: 'bipm-si-2019' },
  { name: 'mV', si: 'V', times: 1, per: 1000, also: [], source: 'bipm-si-2019' },
  { name: 'µV', si: 'V', times: 1, per: 1_000_000, also: [], source: 'bipm-si-2019' },
  { name: 'A', si: 'A', times: 1, per: 1, also: [], source: 'bipm-si-2019' },
  { name: 'mA', si: 'A', times: 1, per: 1000, also: [], source: 'bipm-si-2019' },
  { name: 'µA', si: 'A', times: 1, per: 1_000_000, also: [], source: 'bipm-si-2019' },
  { name: 'Ω', si: 'ohm', times: 1, per: 1, also: ['ohm', 'Ohm', '\u2126'], source: 'bipm-si-2019' },
  { name: 'mΩ', si: 'ohm', times: 1, per: 1000, also: ['mohm', 'm\u2126'], source: 'bipm-si-2019' },
  {
    name: 'cycles/rev',
    si: '1/rev',
    times: 1,
    per: 1,
    also: ['/rev', '1/rev', 'cycles per revolution', 'cycle/rev'],
    source: 'definition'
  },
  { name: 'm/s', si: 'm/s', times: 1, per: 1, also: [], source: 'bipm-si-2019' },
  { name: 'mm/s', si: 'm/s', times: 1, per: 1000, also: [], source: 'bipm-si-2019' },
  { name: 'in/s', si: 'm/s', times: 254, per: 10_000, also: ['ips'], source: 'nist-sp811-2008' },
  { name: 'rev/s', si: 'rev/s', times: 1, per: 1, also: ['rps'], source: 'bipm-si-2019' },
  { name: 'rpm', si: 'rev/s', times: 1, per: 60, also: ['RPM', 'r/min', 'rev/min'], source: 'bipm-si-2019' },
  { name: 'S/m', si: 'S/m', times: 1, per: 1, also: [], source: 'bipm-si-2019' },
  { name: 'MS/m', si: 'S/m', times: 1_000_000, per: 1, also: [], source: 'bipm-si-2019' },
  {
    name: '%IACS',
    si: 'S/m',
    times: IACS_SIEMENS_PER_METER,
    per: 100,
    also: ['%iacs'],
    source: 'iec-60028-1925'
  },
  { name: 'dB', si: 'dB', times: 1, per: 1, also: ['db'], source: 'bipm-si-2019' },
  { name: 'notch', si: 'notch', times: 1, per: 1, also: ['notches'], source: 'definition' },
  { name: '%', si: 'ratio', times: 1, per: 100, also: ['percent'], source: 'bipm-si-2019' }
] as const satisfies readonly TradeUnitRow[]

type Row = (typeof tradeUnits)[number]

/** Names of the trade units in which a quantity of the SI unit U may be given and printed. */
export type TradeUnit<U extends SiUnit = SiUnit> = Extract<Row, { readonly si: U }>['name']

/** The SI unit that a trade unit measures. */
export type SiOf<T extends TradeUnit> = Extract<Row, { readonly name: T }>['si']

const byName: ReadonlyMap<string, TradeUnitRow> = new Map(tradeUnits.map((row) => [row.name, row]))
const bySpelling: ReadonlyMap<string, TradeUnitRow> = new Map(
  tradeUnits.flatMap((row) => [row.name, ...row.also].map((spelling) => [plain(spelling), row] as const))
)

export const rowOf = (name: TradeUnit): TradeUnitRow => byName.get(name)!

/** Blanks around a percent or fraction sign do not count; the Greek mu, the micro sign and a u before m, s, V, A are one prefix; so are the two omegas. source: bipm-si-2019 */
function plain(spelling: string): string {
  return spelling
    .replace(/\s+/g, ' ')
    .replace(/ ?([%/]) ?/g, '$1')
    .replace(/\u03bc/g, '\u00b5')
    .replace(/\u2126/g, '\u03a9')
    .replace(/^u(?=[msVA]$)/, '\u00b5')
}

/** The unit written in this way, `undefined` where it is none. Capitals matter: mHz is not MHz. */
export const unitWritten = (text: string): TradeUnitRow | undefined => bySpelling.get(plain(text))

/** The names of the trade units for one SI unit, for a message or a choice. */
export const unitsFor = (si: SiUnit): readonly string[] =>
  tradeUnits.filter((row) => row.si === si).map((row) => row.name)

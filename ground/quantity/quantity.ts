declare const unit: unique symbol

/**
 * A number that carries its SI unit in its type and nothing at run time. Made by the constructors below, by
 * `fromTrade` and by `parseQuantity` only; arithmetic gives a plain number again, which a constructor takes back.
 */
export type Quantity<U extends SiUnit> = number & { readonly [unit]: U }

/** The units in which quantities are kept. `notch` is the response of the named reference notch, `rev` one turn. */
export type SiUnit =
  | 'm'
  | 's'
  | 'Hz'
  | 'rad'
  | 'V'
  | 'A'
  | 'ohm'
  | '1/rev'
  | 'm/s'
  | 'rev/s'
  | 'S/m'
  | 'dB'
  | 'notch'
  | 'ratio'

/** Throws RangeError for NaN: what is not known is no quantity. */
const maker =
  <U extends SiUnit>(name: U) =>
  (value: number): Quantity<U> => {
    if (Number.isNaN(value)) throw new RangeError(`NaN is no quantity in ${name}`)
    return value as Quantity<U>
  }

export const meters = maker('m')
export const seconds = maker('s')
export const hertz = maker('Hz')
export const radians = maker('rad')
export const volts = maker('V')
export const amperes = maker('A')
export const ohms = maker('ohm')
export const cyclesPerRevolution = maker('1/rev')
export const metersPerSecond = maker('m/s')
export const revolutionsPerSecond = maker('rev/s')
export const siemensPerMeter = maker('S/m')
/** A level difference. 20 dB are a factor 10 in amplitude. */
export const decibels = maker('dB')
/** Amplitude after standardization: 1 is the response of the named notch. */
export const notchUnits = maker('notch')
/** A share or factor without a unit. */
export const ratio = maker('ratio')

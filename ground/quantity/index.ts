/**
 * SI values as types, and the only place that parses and prints units. In memory everything is SI; a unit of the trade
 * exists only in a text that a person writes or reads, and in a name such as `depth_mm`.
 */
export { type QuantityCode, quantityCodes } from './codes.ts'
export * from './quantity.ts'
export { fromTrade, parseQuantity, printQuantity, toTrade } from './text.ts'
export { type SiOf, type TradeUnit, type TradeUnitRow, tradeUnits, unitsFor, unitWritten } from './units.ts'

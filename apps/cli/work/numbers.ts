import { InvalidArgumentError } from 'commander'

/** A whole number from 0, as an option's value. */
export function wholeNumber(text: string): number {
  if (!/^\d{1,9}$/.test(text)) throw new InvalidArgumentError('needed: a whole number from 0 to 999999999')
  return Number(text)
}

/** A number above 0, as an option's value. */
export function positive(text: string): number {
  const value = Number(text)
  if (!/^\d{1,6}(\.\d{1,6})?$/.test(text) || value <= 0) throw new InvalidArgumentError('needed: a number above 0')
  return value
}

/** A port; 0 takes any that is free. */
export function portNumber(text: string): number {
  const port = wholeNumber(text)
  if (port > 65_535) throw new InvalidArgumentError('needed: a port from 0 to 65535')
  return port
}

/** A share above 0.5 and below 1, as an option's value. */
export function shareBelowOne(text: string): number {
  const value = Number(text)
  if (!/^0\.\d{1,6}$/.test(text) || value <= 0.5) throw new InvalidArgumentError('needed: a share such as 0.95')
  return value
}

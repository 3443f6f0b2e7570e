import { InvalidArgumentError } from 'commander'

/** A whole number from 0, as an option's value. */
export function wholeNumber(text: string): number {
  if (!/^\d{1,9}$/.test(text)) throw new InvalidArgumentError('needed: a whole number from 0 to 999999999')
  return Number(text)
}

/** A port; 0 takes any that is free. */
export function portNumber(text: string): number {
  const port = wholeNumber(text)
  if (port > 65_535) throw new InvalidArgumentError('needed: a port from 0 to 65535')
  return port
}

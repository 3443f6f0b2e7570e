import type { Refusal } from '@trueloop/ground/refusal'
import type { z } from 'zod'
import { refuse } from './codes.ts'
import { nearest } from './nearest.ts'
import { helpAt, keysAt } from './shape.ts'
import { pathText, type Step } from './where.ts'

/** From what the schema complains of to refusals in the words of the house. */

export interface Read {
  readonly schema: z.ZodType
  readonly value: unknown
}

type Issue = z.core.$ZodIssue

export const refusalsOf = (issues: readonly Issue[], read: Read, before: readonly Step[] = []): readonly Refusal[] =>
  issues.flatMap((issue) => refusalsOfOne(issue, read, [...before, ...(issue.path as Step[])]))

function refusalsOfOne(issue: Issue, read: Read, steps: readonly Step[]): readonly Refusal[] {
  if (issue.code === 'unrecognized_keys') return issue.keys.map((key) => unknownKey(key, read, steps))
  if (issue.code === 'invalid_union' && issue.errors.length > 0) return refusalsOf(closest(issue.errors), read, steps)
  const found = steps.reduce<unknown>(
    (value, step) => (typeof value === 'object' && value !== null ? (value as Record<Step, unknown>)[step] : undefined),
    read.value
  )
  return [found === undefined ? missing(issue, read, steps) : bad(issue, read, { steps, found })]
}

/** Of several forms that all failed: the one in which the value got farthest, for an object the object's form. */
const closest = (errors: readonly (readonly Issue[])[]): readonly Issue[] =>
  errors.reduce((best, one) => (depth(one) > depth(best) ? one : best))

const depth = (issues: readonly Issue[]): number =>
  Math.max(0, ...issues.map((issue) => issue.path.length + (issue.code === 'unrecognized_keys' ? 1 : 0)))

function unknownKey(key: string, read: Read, steps: readonly Step[]): Refusal {
  const known = keysAt(read.schema, steps, read.value)
  const meant = nearest(key, known)
  return refuse('plan/unknown-key', {
    found: `the key "${key}"`,
    needed: `only known keys here: ${known.join(', ')}`,
    remedy: meant === undefined ? 'remove the key or correct its spelling' : `did you mean "${meant}"?`,
    where: { path: pathText([...steps, key]) }
  })
}

const withHelp = (needed: string, help: string): string => (help === '' ? needed : `${needed} (${help})`)

function missing(issue: Issue, read: Read, steps: readonly Step[]): Refusal {
  return refuse('plan/missing-value', {
    found: `nothing at ${pathText(steps)}`,
    needed: withHelp(neededBy(issue), helpAt(read.schema, steps, read.value)),
    remedy: `write ${String(steps.at(-1))} there; it has no value of its own that could be taken instead`,
    where: { path: pathText(steps) }
  })
}

function bad(issue: Issue, read: Read, at: { readonly steps: readonly Step[]; readonly found: unknown }): Refusal {
  return refuse('plan/bad-value', {
    found: shown(at.found),
    needed: withHelp(neededBy(issue), helpAt(read.schema, at.steps, read.value)),
    remedy: remedyFor(issue, at.found),
    where: { path: pathText(at.steps) }
  })
}

export function shown(value: unknown): string {
  const text = JSON.stringify(value) ?? String(value)
  return text.length > 80 ? `${text.slice(0, 77)}...` : text
}

const kinds: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'a group of keys and values'
}

function neededBy(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      return kinds[issue.expected] ?? issue.expected
    case 'invalid_value':
      return oneOf(issue.values.map(shown))
    case 'invalid_union':
      return 'options' in issue ? oneOf((issue.options as readonly unknown[]).map(shown)) : 'another value'
    case 'too_small':
      return `at least ${issue.minimum}${counted(issue.origin)}`
    case 'too_big':
      return `at most ${issue.maximum}${counted(issue.origin)}`
    case 'invalid_format':
      return issue.format === 'datetime' ? 'a time written as 2026-03-14T09:30:00+01:00' : issue.message
    default:
      return issue.message
  }
}

const oneOf = (values: readonly string[]): string =>
  values.length === 1 ? `${values[0]}` : `one of ${values.join(', ')}`

const counted = (origin: string): string => (origin === 'string' ? ' characters' : origin === 'array' ? ' entries' : '')

function remedyFor(issue: Issue, found: unknown): string {
  if (issue.code === 'invalid_type' && issue.expected === 'number' && typeof found === 'string') return asNumber(found)
  if (issue.code === 'invalid_type' && issue.expected === 'string' && typeof found === 'number')
    return `write it in quotes: "${found}"`
  const values = issue.code === 'invalid_value' ? issue.values.filter((value) => typeof value === 'string') : []
  const meant = typeof found === 'string' ? nearest(found, values) : undefined
  return meant === undefined ? 'correct the value' : `did you mean "${meant}"?`
}

function asNumber(found: string): string {
  if (/^\s*-?\d+,\d+/.test(found)) return 'write the number with a point, without quotes'
  if (/^\s*-?[\d.]+\s*\S/.test(found)) return 'write the bare number; its unit stands in the key'
  return 'write a number, without quotes'
}

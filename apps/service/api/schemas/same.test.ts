import { expect, it } from 'vitest'
import { z } from 'zod'
import { same } from './same.ts'

/** Oracle: the compiler. Each line that must not compile says so, and tsc complains where one does. */

interface Noun {
  readonly depth_mm: number
  readonly why?: readonly string[]
}

const depth_mm = z.number()
const why = z.array(z.string()).exactOptional()

it('takes a schema that agrees with its type, and gives it back', () => {
  const schema = z.object({ depth_mm, why })
  expect(same<Noun>()(schema)).toBe(schema)
  expect(schema.safeParse({ depth_mm: 1, why: ['a'] }).success).toBe(true)
})

it('does not compile where one says more or less than the other', () => {
  const wrong = [
    // @ts-expect-error an optional key is missing
    () => same<Noun>()(z.object({ depth_mm })),
    // @ts-expect-error a key is missing
    () => same<Noun>()(z.object({ why })),
    // @ts-expect-error a key too many
    () => same<Noun>()(z.object({ depth_mm, why, more: z.string().exactOptional() })),
    // @ts-expect-error a key that may be missing
    () => same<Noun>()(z.object({ depth_mm: depth_mm.exactOptional(), why })),
    // @ts-expect-error another type
    () => same<Noun>()(z.object({ depth_mm: z.string(), why }))
  ]
  expect(wrong.every((one) => one() instanceof z.ZodObject)).toBe(true)
})

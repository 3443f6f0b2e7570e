import type { z } from 'zod'

/** Schemas that tsc proves to say of a noun neither more nor less than its type does, optional keys too; an undefined key counts as an absent one. */

type Plain<T> = T extends string | number | boolean | null | undefined
  ? T
  : T extends readonly (infer One)[]
    ? readonly Plain<One>[]
    : { readonly [Key in keyof T]: Plain<T[Key]> }

/** Identity, where being assignable both ways would let a missing optional key pass. */
type Same<A, B> = (<T>() => T extends A ? 1 : 2) extends <T>() => T extends B ? 1 : 2 ? true : false

type Agreeing<T, Schema extends z.ZodType> =
  Same<Plain<z.output<Schema>>, Plain<T>> extends true ? Schema : { readonly differsFromItsType: Plain<T> }

/** `same<Noun>()(schema)` compiles only where both agree. */
export const same =
  <T>() =>
  <Schema extends z.ZodType>(schema: Schema & Agreeing<T, Schema>): Schema =>
    schema

import type { Refusal } from '@trueloop/ground/refusal'
import { pathSteps } from '@trueloop/job/plan'
import type { SheetDocument } from './document.ts'

/** Puts file, line and column to a refusal that names a place inside the sheet. */
export type Placer = (refusal: Refusal) => Refusal

export const placerOf =
  (document: SheetDocument, file: string): Placer =>
  (refusal) => {
    const { path } = refusal.where ?? {}
    if (path === undefined || refusal.where?.line !== undefined) return refusal
    return { ...refusal, where: { ...refusal.where, file, ...document.positionOf(pathSteps(path)) } }
  }

import type { Result } from '@trueloop/ground/refusal'
import { openHole } from './hole.ts'
import type { HoleExamination } from './hole-input.ts'
import { type LoopExamination, openLoop } from './loop.ts'
import type { Run, Watching } from './recipe.ts'
import { openWeld } from './weld.ts'
import type { WeldExamination } from './weld-input.ts'

/** An application and all that its examination is opened with: plain data, so that another thread or a page can open it. */
export type Recipe =
  | { readonly application: 'fastener hole'; readonly input: HoleExamination }
  | { readonly application: 'weld'; readonly input: WeldExamination }
  | { readonly application: 'loop'; readonly input: LoopExamination }

/**
 * Opens the examination of one recording. Refuses what `openHole`, `openWeld` and `openLoop` refuse. `watching` is told of
 * a hole only, and changes nothing.
 */
export function openRun(recipe: Recipe, watching: Watching = {}): Result<Run> {
  if (recipe.application === 'fastener hole') return openHole(recipe.input, watching)
  return recipe.application === 'weld' ? openWeld(recipe.input) : openLoop(recipe.input)
}

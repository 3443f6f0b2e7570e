import type { Result } from '@trueloop/ground/refusal'
import {
  type HoleExamination,
  type LoopExamination,
  openHole,
  openLoop,
  openWeld,
  type Run,
  type WeldExamination
} from '@trueloop/job/examine'

/** An application and all that its examination is opened with: plain data, so that another thread can open it. */
export type Recipe =
  | { readonly application: 'fastener hole'; readonly input: HoleExamination }
  | { readonly application: 'weld'; readonly input: WeldExamination }
  | { readonly application: 'loop'; readonly input: LoopExamination }

/** Opens the examination of one recording. Refuses what `openHole`, `openWeld` and `openLoop` refuse. */
export function openRun(recipe: Recipe): Result<Run> {
  if (recipe.application === 'fastener hole') return openHole(recipe.input)
  return recipe.application === 'weld' ? openWeld(recipe.input) : openLoop(recipe.input)
}

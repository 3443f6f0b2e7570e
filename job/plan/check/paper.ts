import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import type { HoleSheet, Sheet } from '../sheet.ts'
import { pathText } from '../where.ts'

/** The technique as the paper that it is: its approver, what was proposed, the stack-up that it is for. */

export const checkPaper = (sheet: Sheet): readonly Refusal[] => [...checkApprover(sheet), ...checkProposed(sheet)]

/** Only the named Level III answers for a technique. */
function checkApprover({ technique: { approver }, confirmed }: Sheet): readonly Refusal[] {
  if (approver === undefined || confirmed === undefined) return []
  if (confirmed.by === approver && confirmed.level === 'III') return []
  return [
    refuse('plan/other-approver', {
      found: `a confirmation by ${confirmed.by}, level ${confirmed.level}`,
      needed: `that of ${approver}, level III, whom the technique names`,
      remedy: 'let the named person confirm it',
      where: { path: 'confirmed.by' }
    })
  ]
}

/** A key that is not in the technique was not proposed for it. */
function checkProposed({ technique }: Sheet): readonly Refusal[] {
  return (technique.proposed ?? []).flatMap((key, index) => {
    if (isIn(technique, key)) return []
    return [
      refuse('plan/unknown-key', {
        found: `"${key}", which this technique does not state`,
        needed: 'keys of this technique that have a value, such as frequency_kHz or alarm.share',
        remedy: 'correct the key, or take it out',
        where: { path: pathText(['technique', 'proposed', index]) }
      })
    ]
  })
}

const isIn = (technique: object, key: string): boolean =>
  key.split('.').reduce<unknown>((at, step) => {
    const isObject = typeof at === 'object' && at !== null
    return isObject && Object.hasOwn(at, step) ? (at as Record<string, unknown>)[step] : undefined
  }, technique) !== undefined

/** A hole is of the stack-up that the technique is for: as many layers, each of its metal and as thick. */
export function checkStackUp({ technique: { stack_up: stack }, holes }: HoleSheet): readonly Refusal[] {
  if (stack === undefined) return []
  return holes.flatMap((hole, index) => {
    const bounds = [0, ...hole.interfaces_mm, hole.grip_mm]
    const found = bounds.slice(1).map((to, at) => ({ metal: hole.layers?.[at], thick_mm: to - bounds[at]! }))
    const differs =
      found.length !== stack.length ||
      stack.some(({ metal, thickness_mm, tolerance_mm = 0 }, at) => {
        const layer = found[at]!
        const thick = Math.abs(layer.thick_mm - thickness_mm) > tolerance_mm + 1e-9
        return thick || (layer.metal !== undefined && layer.metal !== metal)
      })
    return differs ? [otherStack(found, stack, index)] : []
  })
}

type Layers = NonNullable<HoleSheet['technique']['stack_up']>

const otherStack = (
  found: readonly { readonly metal: string | undefined; readonly thick_mm: number }[],
  stack: Layers,
  index: number
): Refusal =>
  refuse('plan/stack-up-differs', {
    found: found.map(({ metal, thick_mm }) => `${metal ?? 'a metal not stated'} ${thick_mm.toFixed(2)} mm`).join(' + '),
    needed: stack
      .map(({ metal, thickness_mm, tolerance_mm = 0 }) => `${metal} ${thickness_mm} ± ${tolerance_mm} mm`)
      .join(' + '),
    remedy: 'correct grip and joints of the hole, or take the technique that is for this stack-up',
    where: { path: pathText(['holes', index]) }
  })

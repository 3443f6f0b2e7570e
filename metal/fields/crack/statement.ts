import type { CrackInPart } from './crack.ts'

/** What an answer of this model stands on; goes with every result. */
export interface CrackStatement {
  readonly modeled: readonly string[]
  readonly notModeled: readonly string[]
  /** Against what the model was checked in this kind of metal. */
  readonly check: string
  /** No winding is an even block: absolute values were 1 to 2 % off where a coil was measured. Says on what it is scaled. */
  readonly scale: string
}

const everyTime = [
  'edges of the part and corners of a hole',
  'back wall',
  'ferrite',
  'contact between the faces',
  'crack at a slant'
]

const CURVED_KERNEL = 'curvature of the hole in how the crack answers'

/** What is modeled and what is not, for one crack in a flat part. */
export const crackStatement = (part: CrackInPart): CrackStatement =>
  statementFor(part, {
    modeled: ['air-core coil over flat metal'],
    notModeled: ['curved surface'],
    check: checkOf(part.crack.outline, part.metal.permeability)
  })

/** The same in the wall of a hole. */
export const wallStatement = (part: CrackInPart): CrackStatement =>
  statementFor(part, {
    modeled: ['air-core coil that faces the wall of a round hole', 'field of the coil in the metal around the hole'],
    notModeled: [CURVED_KERNEL],
    check: `no published check of a crack in a hole; ${flatCheck(part)}`
  })

/** A round driver with a differential pair over a flat part. */
export const pairStatement = (part: CrackInPart): CrackStatement =>
  statementFor(part, {
    modeled: [...pairModeled, 'flat metal'],
    notModeled: ['curved surface', ...pairNotModeled],
    check: `no published check of a differential pair; ${flatCheck(part)}`
  })

/** The same in the wall of a hole; the driver has the field of the round hole or stands on the unrolled wall. */
export const wallPairStatement = (part: CrackInPart, isRound: boolean): CrackStatement =>
  statementFor(part, {
    modeled: [
      ...pairModeled,
      isRound ? 'field of the driver in the metal around the hole' : 'wall of the hole, unrolled'
    ],
    notModeled: [
      isRound
        ? 'curvature of the hole in the field of the pick-ups'
        : 'curvature of the hole in the field of driver and pick-ups',
      CURVED_KERNEL,
      ...pairNotModeled
    ],
    check: `no published check of a differential pair or of a crack in a hole; ${flatCheck(part)}`
  })

const pairModeled = ['round air-core driver', 'two half-round air-core pick-ups against each other, in 9 harmonics']
const pairNotModeled = ['room that the turns of a pick-up take at its straight side', 'pick-ups that differ']

const flatCheck = ({ crack, metal }: CrackInPart): string =>
  `one coil over flat metal: ${checkOf(crack.outline, metal.permeability)}`

function statementFor(
  { crack: { outline, opening } }: CrackInPart,
  { modeled, notModeled, check }: Pick<CrackStatement, 'modeled' | 'notModeled' | 'check'>
): CrackStatement {
  const steps = outline === 'rectangle' ? [] : ['outline of the ellipse, but in steps of one cell']
  const gap = opening > 0 ? ['opening, to first order'] : []
  const missing = opening > 0 ? [] : ['opening']
  const edge = outline === 'quarter ellipse' ? ['the edge that a quarter ellipse starts from'] : []
  return {
    modeled: [...modeled, `${outline} that lets no current through`, ...steps, ...gap],
    notModeled: [...edge, ...missing, ...notModeled, ...everyTime],
    check: opening > 0 ? `${check}; of an opening only with the coil over the crack plane` : check,
    scale: 'not scaled on a measured notch: no size may be read from it'
  }
}

function checkOf(outline: CrackInPart['crack']['outline'], permeability: number): string {
  if (permeability > 1) return 'no published check of a crack in metal of relative permeability above 1'
  return outline === 'rectangle'
    ? 'measured benchmark of a slot in aluminum, TEAM 15'
    : 'no published check of this outline; a rectangle in aluminum agrees with TEAM 15'
}

import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import { standardDepth } from '../depth.ts'
import { cellComplaint } from './cells.ts'
import type { CrackInPart } from './crack.ts'

/** A plate this many depths of penetration thick answers like a half-space; common practice for conductivity. */
const THICK = 3
/** Metal left below the crack, in depths of penetration: what comes back from behind has fallen by exp(-4). */
const LEFT = 2
/** First order in the opening: TEAM 15 reaches 0.26 depths of penetration and still agrees with what was measured. */
const WIDEST = 0.3

type Complaint = Refusal<FieldsCode> | undefined
const isLength = (value: number): boolean => value > 0 && Number.isFinite(value)

/**
 * Refuses: as standardDepth, and fields/bad-crack, fields/bad-thickness, fields/crack-outside-plate,
 * fields/plate-too-thin, fields/bad-cells, fields/cells-too-large, fields/cells-too-small,
 * fields/opening-in-magnetic-metal, fields/opening-too-wide.
 */
export function crackComplaint(part: CrackInPart): Complaint {
  const delta = standardDepth(part.frequency, part.metal)
  if (isRefusal(delta)) return delta
  return (
    sizeComplaint(part) ?? plateComplaint(part, delta) ?? cellComplaint(part, delta) ?? openingComplaint(part, delta)
  )
}

const sizeComplaint = ({ crack: { length, depth, opening } }: CrackInPart): Complaint =>
  isLength(length) && isLength(depth) && opening >= 0 && Number.isFinite(opening)
    ? undefined
    : refuse('fields/bad-crack', {
        found: `a crack ${length} m long, ${depth} m deep, ${opening} m open`,
        needed: 'a length and a depth above zero, an opening of zero or more',
        remedy: 'correct the dimensions of the crack'
      })

function plateComplaint({ crack: { depth }, thickness }: CrackInPart, delta: number): Complaint {
  if (thickness === 'infinite') return undefined
  if (!isLength(thickness))
    return refuse('fields/bad-thickness', {
      found: `a part ${thickness} m thick`,
      needed: 'a thickness above zero',
      remedy: 'give the thickness of the part, or "infinite"'
    })
  if (depth >= thickness)
    return refuse('fields/crack-outside-plate', {
      found: `a crack ${depth} m deep in ${thickness} m of metal`,
      needed: 'a crack that ends inside the metal',
      remedy: 'correct the depth or the thickness; a crack right through is outside this model'
    })
  if (thickness >= THICK * delta && thickness - depth >= LEFT * delta) return undefined
  return refuse('fields/plate-too-thin', {
    found: `${thickness} m of metal, ${thickness - depth} m of it below the crack, at a depth of penetration of ${delta} m`,
    needed: `${THICK} depths of penetration in all and ${LEFT} below the crack: this model knows no back wall`,
    remedy: 'use a higher frequency, or a shallower crack'
  })
}

function openingComplaint({ crack: { opening }, metal }: CrackInPart, delta: number): Complaint {
  if (opening === 0) return undefined
  if (metal.permeability > 1)
    return refuse('fields/opening-in-magnetic-metal', {
      found: `an opening of ${opening} m in metal of relative permeability ${metal.permeability}`,
      needed: 'a closed crack: the flux in the gap of a magnetic metal is not in this model',
      remedy: 'set the opening to zero and scale the answer on a measured notch'
    })
  return widthComplaint(opening, delta)
}

/** Refuses: fields/opening-too-wide. */
export function widthComplaint(opening: number, delta: number): Complaint {
  if (opening <= WIDEST * delta) return undefined
  return refuse('fields/opening-too-wide', {
    found: `an opening of ${opening} m at a depth of penetration of ${delta} m`,
    needed: `an opening of at most ${WIDEST} depths of penetration: it is counted to first order`,
    remedy: 'use a lower frequency or a narrower opening; a wide notch must not stand for a tight crack'
  })
}

import { declared, PRACTICE, weighed } from '../causes/index.ts'
import { trackCause } from './cause.ts'
import { alongLiftOff, gentleEnds, swings } from './shapes.ts'

export const toeGeometry = trackCause({
  name: 'toe geometry',
  alsoCalled: ['weld profile', 'bead', 'undercut shape'],
  class: 'nonrelevant',
  looks: 'A wave with the runs of the bead: gentle on both sides, both ways about the null, toward lift-off.',
  source: PRACTICE,
  numbers: {
    gentleNone: declared(0.8, 'widths of the field', 'a slot’s end takes 0.7'),
    gentleFull: declared(1.5, 'widths of the field', 'the toe bends, it does not break off'),
    swingNone: declared(0.1, 'of its height', 'a flaw only rises'),
    swingFull: declared(0.4, 'of its height', 'what tilts the probe one way tilts it the other way beside it'),
    liftNone: declared(45, 'degrees', 'half way to the upright'),
    liftFull: declared(25, 'degrees', 'a tilted probe answers mostly as a lifted one')
  },
  weigh: (features, v) =>
    weighed([
      gentleEnds(features, { none: v.gentleNone, full: v.gentleFull }),
      swings(features, { none: v.swingNone, full: v.swingFull }),
      alongLiftOff(features, { none: v.liftNone, full: v.liftFull })
    ])
})

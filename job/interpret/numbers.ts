import type { Group, Values } from './parameters.ts'

/** Numbers by which places are found and judged. */
export const detection = {
  falseCallsPerHole: {
    value: 0.005,
    unit: 'indications a hole',
    reason: 'noise alone may bring up one indication in 200 holes: few enough that each can be looked at again'
  },
  singleScreen: {
    value: 4.2,
    unit: 'deviations of one revolution',
    reason: 'what one revolution must show to be kept at once; the noise of a wall shows it about once in ten holes'
  },
  joinedScreen: {
    value: 3.6,
    unit: 'deviations of joined revolutions',
    reason: 'below every level that the false-call rate can ask for, so that nothing is lost before it is judged'
  },
  coneMargin: {
    value: 15,
    unit: 'deg',
    reason: 'a crack may lie this far beyond the angles of the notches: tighter and narrower than a notch'
  },
  leastCone: {
    value: 25,
    unit: 'deg',
    reason: 'directions nearer to lift-off than this are not weighed as those of a flaw: scores lie there'
  },
  phaseFrom: {
    value: 8,
    unit: 'deviations',
    reason: 'a notch that stands out less than this does not know its own angle to a few degrees'
  },
  sideLobeFreedom: {
    value: 1.5,
    unit: '1',
    reason:
      'a side lobe of a crack may be this much stronger than the notch form predicts: its form is not the notch form'
  },
  sideLobeResidue: {
    value: 0.2,
    unit: '1',
    reason: 'what may be left beside a strong flaw when its side lobe is taken off: its loop is no straight line'
  },
  sideLobeShift: {
    value: 0.25,
    unit: 'lobe spacings',
    reason: 'a long or deep flaw has lobes a little farther apart than the notch'
  },
  wander: {
    value: 0.25,
    unit: 'lobe spacings',
    reason: 'a crack that is not quite straight moves by this much in angle from one revolution to the next'
  }
} as const satisfies Group

export type Detection = Values<typeof detection>

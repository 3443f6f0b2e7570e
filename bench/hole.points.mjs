/**
 * The 24 points of the comparison in a hole: the coil, the holes and the metals of the 12 check values
 * (metal/fields/reference/hole.py), each metal at its own frequency and at another. SI units.
 */
const coil = { r1: 0.3e-3, r2: 0.7e-3, length: 0.6e-3, turns: 60, liftOff: 0.15e-3 }
const diameters = [3.96e-3, 6.35e-3, 12.7e-3]
const metals = [
  { sigma: 18.97e6, mur: 1, frequencies: [200e3, 100e3] },
  { sigma: 18.97e6, mur: 1, frequencies: [500e3, 1e6] },
  { sigma: 0.58e6, mur: 1, frequencies: [2e6, 1e6] },
  { sigma: 1.45e6, mur: 75, frequencies: [1e6, 200e3] }
]

export const points = diameters.flatMap((diameter) =>
  metals.flatMap(({ sigma, mur, frequencies }) => frequencies.map((f) => ({ coil, diameter, sigma, mur, f })))
)

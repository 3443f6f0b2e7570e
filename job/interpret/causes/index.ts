export { type Cause, type Class, cause, type Evidence, PRACTICE, type Weighed } from './cause.ts'
export { crack } from './crack.ts'
export { type Criterion, grade, weighed } from './criteria.ts'
export { causes } from './registry.ts'

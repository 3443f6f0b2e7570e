export { type Code, codes } from './codes.ts'
export { type Crew, type CrewOptions, openCrew } from './crew.ts'
export { examineTask, type Task } from './task.ts'

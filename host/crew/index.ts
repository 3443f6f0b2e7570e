export { type Code, codes } from './codes.ts'
export { type Crew, type CrewOptions, openCrew } from './crew.ts'
export { type Examined, examineTask, type Task } from './task.ts'

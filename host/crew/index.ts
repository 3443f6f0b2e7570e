export { type Code, codes } from './codes.ts'
export { type Crew, type CrewOptions, openCrew } from './crew.ts'
export { openRun, type Recipe } from './recipe.ts'
export { examineTask, type Task } from './task.ts'

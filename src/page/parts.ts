/** What the build puts into the page beside its script: the colours and hatches of the report. */
import { hatches } from "../report/palette.ts";
import { COLOURS } from "../report/style.ts";

export const colours: string = COLOURS;
export const hatchMarkup: string = hatches().text;

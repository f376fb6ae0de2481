import { answerAside } from "../engine/aside.ts";
import { openContent } from "../scenario/source.ts";
import type { Question } from "./judge.ts";
import { measuredFileReader } from "./measured.ts";
import { STUDIES } from "./studies.ts";

/** Entry of the thread that a study is done in. */
answerAside<Question>(({ study, fileName, content, request }, onStep) => {
  const source = openContent(content, fileName, undefined, measuredFileReader(fileName));
  return STUDIES[study](source, request as never, onStep);
});

import { show } from "./answer.js";
import { clearProblem, prepare, read, showProblem } from "./observation.js";
import { identify, list } from "./service.js";

const form = document.getElementById("observation");
const problemBox = document.getElementById("problem");
const answerSection = document.getElementById("answer");
const tableLine = document.getElementById("table");

const kindNames = new Map();

async function start() {
  const [kinds, colours, tests, parents] = await Promise.all(
    ["derivative-kinds", "colours", "spot-tests", "parents"].map(list));
  prepare(form, { kinds: kinds.items, colours: colours.items, tests: tests.items });
  kinds.items.forEach((kind) => kindNames.set(kind.key, kind.name));
  tableLine.textContent = `Table version ${kinds.tableVersion}: ${parents.items.length} compounds, ${kinds.items.length} kinds of derivative.`;
}

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  clearProblem(form, problemBox);
  const { observation, places } = read(form);
  try {
    const { answer, isKept } = await identify(observation);
    show(answerSection, answer, isKept, kindNames);
  } catch (problem) {
    showProblem(problemBox, problem, places);
  }
});

start().catch(() => { tableLine.textContent = "The table could not be read. Reload the page to try again."; });

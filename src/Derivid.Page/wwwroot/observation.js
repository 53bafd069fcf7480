/** The form: from the vocabularies to an observation, and from a problem back to its fields. */
import { element } from "./elements.js";

const preparations = [["unstated", "not stated"], ["crude", "crude"], ["recrystallised", "recrystallised"]];
const precipitates = [["crystals", "crystals"], ["oil", "an oil only"], ["none", "nothing"]];
const outcomes = [["notDone", "not run"], ["positive", "positive"], ["negative", "negative"], ["doubtful", "doubtful"]];

const options = (pairs) => pairs.map(([value, text]) => element("option", { value }, text));

const field = (text, input) => element("label", {}, text, input);

/** One derivative's inputs. */
function derivativeRow(kinds, colours, kindKey) {
  const kind = element("select", { name: "kind" }, ...options(kinds.map((k) => [k.key, k.name])));
  kind.value = kindKey;
  const precipitate = element("select", { name: "precipitate" }, ...options(precipitates));
  const colour = element("select", { name: "colour", "data-of-crystals": "" }, ...options([["", "not noted"], ...colours.map((c) => [c.key, c.name])]));
  const remove = element("button", { type: "button", class: "plain" }, "Take out");
  const row = element("div", { class: "derivative" },
    field("Derivative", kind),
    field("What came", precipitate),
    field("Melting range", element("input", { name: "meltingRange", "data-of-crystals": "", placeholder: "125-127 °C" })),
    field("Crystals", element("select", { name: "preparation", "data-of-crystals": "" }, ...options(preparations))),
    field("Colour", colour),
    remove);
  remove.addEventListener("click", () => row.remove());
  precipitate.addEventListener("change", () => {
    // Of crystals that did not come there is nothing to enter; what was entered is kept, should they come yet.
    row.querySelectorAll("[data-of-crystals]").forEach((input) => { input.disabled = precipitate.value !== "crystals"; });
  });
  return row;
}

/** Fills the form from the vocabularies. */
export function prepare(form, { kinds, colours, tests }) {
  const rows = form.querySelector("#derivatives");
  const first = kinds.find((kind) => kind.colourInforms) ?? kinds[0];
  rows.append(derivativeRow(kinds, colours, first.key));
  form.querySelector("#add-derivative").addEventListener("click", () => {
    const used = new Set([...rows.querySelectorAll("[name=kind]")].map((select) => select.value));
    const next = kinds.find((kind) => kind.key === "semicarbazone" && !used.has(kind.key)) ?? kinds.find((kind) => !used.has(kind.key)) ?? first;
    rows.append(derivativeRow(kinds, colours, next.key));
  });
  form.querySelector("#spot-tests tbody").append(...tests.map((test) => element("tr", {},
    element("th", { scope: "row", title: `Positive: ${test.positiveLooksLike}` }, test.name),
    element("td", {}, element("select", { name: `test ${test.key}`, "data-test": test.key, "aria-label": test.name }, ...options(outcomes))))));
}

/** The observation as the API takes it; remembers which input stands for which place in it. */
export function read(form) {
  const observation = {};
  const places = new Map();
  const text = (name) => form.elements[name].value.trim();
  for (const input of form.querySelectorAll("[data-pointer]")) {
    places.set(input.dataset.pointer, input);
  }

  observation.derivatives = [...form.querySelectorAll(".derivative")].flatMap((row) => {
    const value = (name) => {
      const input = row.querySelector(`[name=${name}]`);
      return input.disabled ? "" : input.value.trim();
    };
    return value("meltingRange") || value("colour") || value("precipitate") !== "crystals" ? [{ row, value }] : [];
  }).map(({ row, value }, index) => {
    for (const name of ["kind", "precipitate", "meltingRange", "preparation", "colour"]) {
      places.set(`/derivatives/${index}/${name}`, row.querySelector(`[name=${name}]`));
    }
    return {
      kind: value("kind"),
      ...(value("precipitate") !== "crystals" && { precipitate: value("precipitate") }),
      ...(value("preparation") && { preparation: value("preparation") }),
      ...(value("meltingRange") && { meltingRange: value("meltingRange") }),
      ...(value("colour") && { colour: value("colour") }),
    };
  });
  observation.spotTests = [...form.querySelectorAll("[data-test]")]
    .filter((select) => select.value !== "notDone")
    .map((select, index) => {
      places.set(`/spotTests/${index}/outcome`, select);
      return { test: select.dataset.test, outcome: select.value };
    });
  if (text("state")) {
    observation.state = text("state");
  }
  if (text("boilingPoint")) {
    observation.boilingPoint = { range: text("boilingPoint"), ...(text("pressure") && { pressureKilopascals: number(text("pressure")) }) };
  }
  if (text("meltingPoint")) {
    observation.meltingPoint = text("meltingPoint");
  }
  if (text("windowCelsius")) {
    observation.windowCelsius = number(text("windowCelsius"));
  }
  return { observation, places };
}

/** A number where it reads as one, with a decimal comma too; else the text, for the service to refuse by name. */
function number(text) {
  const value = Number(text.replace(",", "."));
  return Number.isFinite(value) ? value : text;
}

/** Marks the fields a problem names, and lists what it says. */
export function showProblem(box, problem, places) {
  const errors = Object.entries(problem.document?.errors ?? {});
  for (const [pointer] of errors) {
    places.get(pointer)?.setAttribute("aria-invalid", "true");
  }
  box.replaceChildren(element("p", {}, problem.document?.title ?? "The service did not answer. Your entries are still here; try again."),
    element("ul", {}, ...errors.flatMap(([, messages]) => messages.map((message) => element("li", {}, message)))));
  box.hidden = false;
  (places.get(errors[0]?.[0]) ?? box).focus?.();
}

/** Takes the marks of the last problem away. */
export function clearProblem(form, box) {
  box.hidden = true;
  form.querySelectorAll("[aria-invalid]").forEach((input) => input.removeAttribute("aria-invalid"));
}

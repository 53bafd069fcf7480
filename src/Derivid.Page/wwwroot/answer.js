/** Shows an identification. */
import { element } from "./elements.js";

const share = (probability) => probability.toFixed(probability < 0.01 ? 3 : 2);

const bar = (probability) => element("div", { class: "bar" }, element("span", { style: `width:${(100 * probability).toFixed(1)}%` }));

/** A log likelihood ratio as a bar to the right (speaks for) or left (against); full width at 5. */
function weight(logRatio) {
  const width = Math.min(Math.abs(logRatio) / 5, 1) * 50;
  return element("td", { class: "weight", title: `ln likelihood ratio ${logRatio.toFixed(2)}` },
    element("div", {}, element("span", { class: logRatio >= 0 ? "for" : "against", style: `width:${width.toFixed(1)}%` })));
}

function windowLine(check, kindNames) {
  const listed = check.listedLowCelsius === check.listedHighCelsius
    ? `${check.listedLowCelsius} °C`
    : `${check.listedLowCelsius}–${check.listedHighCelsius} °C`;
  const verdict = check.isWholeRangeInside ? "whole range inside the window"
    : check.isClearPointInside ? "clear point inside the window, onset outside"
    : "outside the window";
  return element("li", {}, `${kindNames.get(check.subject) ?? "the unknown itself"}: listed ${listed}, reading off by ${check.deviationCelsius} °C, ${verdict}.`);
}

function candidate(entry, kindNames) {
  const { parent } = entry;
  return element("li", {}, element("details", { open: entry.rank === 1 },
    element("summary", {},
      element("span", { class: "quiet" }, `${entry.rank}`),
      element("span", {}, parent.name),
      bar(entry.posterior),
      element("span", { class: "number" }, share(entry.posterior))),
    element("p", { class: "quiet" }, `${parent.formula} · CAS ${parent.casNumber} · ${parent.smiles}`),
    element("table", { class: "evidence" }, element("tbody", {},
      ...entry.evidence.map((piece) => element("tr", {}, weight(piece.logLikelihoodRatio),
        element("td", {}, piece.sentence, piece.sourceKeys.length ? element("span", { class: "quiet" }, ` [${piece.sourceKeys.join(", ")}]`) : ""))))),
    element("p", {}, entry.howCommon),
    element("ul", { class: "windows" }, ...entry.windows.map((check) => windowLine(check, kindNames))),
    ...entry.remarks.map((remark) => element("p", { class: "quiet" }, remark))));
}

function none(entry) {
  return element("li", { class: "none" }, element("details", {},
    element("summary", {},
      element("span", {}, ""),
      element("span", {}, "none of these"),
      bar(entry.posterior),
      element("span", { class: "number" }, share(entry.posterior))),
    element("p", {}, entry.sentence)));
}

function step(entry) {
  return element("li", {}, element("strong", {}, entry.name), `: ${entry.sentence} `,
    element("span", { class: "quiet" }, `About ${entry.minutes} min, hazard ${entry.hazard}, expected information ${entry.expectedInformation.toFixed(2)} nats.`));
}

/** Replaces what the section shows. */
export function show(section, answer, isKept, kindNames) {
  section.replaceChildren(
    element("h2", { id: "may-be" }, "What it may be"),
    ...(isKept ? [] : [element("p", { class: "warning" }, "The archive cannot be reached, so this answer was not kept.")]),
    element("p", { class: "summary" }, answer.summary),
    ...answer.warnings.map((warning) => element("p", { class: "warning" }, warning)),
    element("ol", { class: "candidates" }, ...answer.candidates.map((entry) => candidate(entry, kindNames)), none(answer.noneOfThese)),
    element("h3", {}, "What to do next"),
    element("ol", { class: "steps" }, ...answer.nextSteps.slice(0, 5).map(step)),
    element("h3", {}, "Cautions"),
    element("ul", { class: "cautions" }, ...answer.cautions.map((caution) => element("li", {}, caution))),
    element("p", { class: "quiet" }, `Identification ${answer.id}, table version ${answer.tableVersion}, model version ${answer.modelVersion}.`));
}

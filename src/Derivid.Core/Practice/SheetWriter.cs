using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Practice;

/// <summary>Puts a <see cref="PreparationSheet"/> together.</summary>
internal sealed class SheetWriter(PreparationOrder order, ReferenceTable table)
{
    // What is more than this many per cent of a class is worth naming. Chosen.
    private const double LeastColourShare = 0.15;

    private const string Unknown = "the unknown";

    private readonly DerivativeKind _kind = order.Kind;
    private readonly PreparationPlan _plan = order.Plan();
    private readonly CarbonylEnvironment? _environment = order.Environment;
    private readonly List<PracticeSubstance> _forms = [.. PracticeSubstance.FormsOf(order.Kind.Key)];
    private readonly List<Derivative> _listed = [.. table.Derivatives.Where(row =>
        row.ParentKey == order.Parent?.Key && row.KindKey == order.Kind.Key && row.CarbonylsCondensed == order.CarbonylsCondensed)];

    private MolecularFormula? ParentFormula => order.Parent is { } parent ? MolecularFormula.Parse(parent.Formula) : null;

    public PreparationSheet Write()
    {
        var batches = Batches().ToList();
        var given = PreparationAdvice.For(_kind.Key, order.Parent is null ? null : _environment?.Features ?? StructureFeature.None);
        var advice = given.Select(row => new AdviceSheet(row.Topic, row.Text, row.Why, row.SourceKey, row.Locator, row.Verification)).ToList();
        if (!advice.Exists(row => row.Topic == AdviceTopic.Recrystallising))
        {
            advice.Add(new AdviceSheet(AdviceTopic.Recrystallising, _kind.RecrystallisationSolvents, null, _kind.SourceKey, null, null));
            advice = [.. advice.OrderBy(row => row.Topic)];
        }

        var wait = given.Select(row => row.Minutes).FirstOrDefault(minutes => minutes is not null);
        return new PreparationSheet
        {
            TableVersion = table.Version,
            Title = $"{order.Parent?.Name ?? Unknown} {(order.CarbonylsCondensed > 1 ? "bis-" : "")}{_kind.Name}",
            ParentKey = order.Parent?.Key,
            KindKey = _kind.Key,
            CarbonylsCondensed = order.CarbonylsCondensed,
            Carbonyl = new CarbonylAmount(
                order.Parent?.Name ?? Unknown, ParentFormula?.ToString(), order.MolarMass, order.Milligrams, _plan.CarbonylMillimoles,
                order.Milligrams / 1000 / order.GramsPerMillilitre),
            Reagent = Reagent(),
            Limiting = _plan.Limiting,
            LimitingSentence = LimitingSentence(),
            Product = Product(),
            Yield = order.ProductMilligrams is { } weighed ? Yield(weighed) : null,
            Recipes = [.. batches.Select(Recipe)],
            Advice = advice,
            WaitMinutes = wait,
            Minutes = _kind.Minutes,
            Colour = Colour(),
            ListedCelsius = _listed.Count == 0 ? null : new AmountSpan(_listed.Min(row => row.LowCelsius), _listed.Max(row => row.HighCelsius)),
            Unsourced = [.. Unsourced(batches, wait)],
            Cautions = Cautions(batches),
            Deferral = Caution.DeferralOfList,
            Sources = [.. advice.Select(row => row.SourceKey)
                .Concat(batches.Select(batch => batch.Recipe.SourceKey))
                .Concat(_forms.Select(form => form.SourceKey))
                .Distinct(StringComparer.Ordinal)
                .Order(StringComparer.Ordinal)
                .Select(SourceOf).OfType<Source>()],
        };
    }

    // A kind of the table may cite what this build does not know, and the other way round.
    private Source? SourceOf(string key) => Bibliography.Find(key) ?? table.Sources.FirstOrDefault(source => source.Key == key);

    private ReagentAmount Reagent() => new(
        _kind.ReagentName,
        _kind.ReagentFormula,
        _plan.ReagentMolarMass,
        _plan.ReagentMillimoles,
        _plan.ReagentMilligrams,
        _plan.ReagentExcess,
        [.. _forms.Select(form => new FormAmount(
            form.Key, form.Name, form.Formula, form.MolarMass, form.MassShare,
            form.MilligramsOf(_plan.ReagentMillimoles),
            form.MilligramsOf(_plan.ReagentMillimoles) / 1000 / form.GramsPerMillilitre,
            form.CanExplode, form.Note, form.SourceKey))]);

    private string LimitingSentence() => _plan.Limiting switch
    {
        LimitingReactant.Carbonyl => $"The carbonyl compound limits: there is {_plan.ReagentExcess.Percent()} more reagent than reacts.",
        LimitingReactant.Reagent => $"The reagent limits: {new AmountSpan(-_plan.ReagentExcess.High, -_plan.ReagentExcess.Low).Percent()} of what would react is missing, and as much of the carbonyl compound is left over.",
        LimitingReactant.Neither => "Neither limits: both are used up.",
        LimitingReactant.Undecided => "Which of the two limits depends on the molar mass of the unknown.",
    };

    private ProductAmount Product()
    {
        var formula = ParentFormula is { } parent ? DerivativeFormula.Of(parent, _kind, order.CarbonylsCondensed) : null;
        var reagents = Times(order.CarbonylsCondensed * _kind.ReagentsPerCarbonyl, _kind.ReagentFormula);
        var waters = order.CarbonylsCondensed * _kind.WatersPerCarbonyl;
        return new ProductAmount(
            formula?.ToString(),
            $"{ParentFormula?.ToString() ?? "M"} + {reagents} − {Times(waters, "H2O")}{(formula is null ? "" : $" = {formula}")}",
            _plan.ProductMolarMass,
            _plan.ProductMillimoles,
            _plan.TheoreticalMilligrams,
            [.. ParentFormula is { } from && _environment is { CarbonylGroups: var groups }
                ? Enumerable.Range(1, groups).Where(count => count != order.CarbonylsCondensed)
                    .Select(count => (Count: count, Formula: DerivativeFormula.Of(from, _kind, count)))
                    .Select(other => new OtherProduct(other.Count, other.Formula.ToString(), other.Formula.MolarMass))
                : []]);
    }

    private static string Times(int count, string formula) => count == 1 ? formula : FormattableString.Invariant($"{count} {formula}");

    private ProductYield Yield(double weighed)
    {
        var share = _plan.YieldOf(weighed);
        var words = share switch
        {
            { Low: > 1 } => $"{share.Percent()} of the theoretical yield: more than there can be, so the product is wet or holds something else. Dry it until it weighs the same twice.",
            { High: > 1 } => $"{share.Percent()} of the theoretical yield; above 100 % the product would be wet or hold something else, or the molar mass lies elsewhere in its span.",
            _ => $"{share.Percent()} of the theoretical yield.",
        };
        return new ProductYield(weighed, share, words);
    }

    private IEnumerable<RecipeBatch> Batches() => ReagentRecipe.All
        .Where(recipe => recipe.KindKey == _kind.Key)
        .SelectMany(recipe => new[] { recipe.ForTests(order.Portions), recipe.ForDerivatives(_plan, order.Portions) })
        .OfType<RecipeBatch>();

    private RecipeSheet Recipe(RecipeBatch batch) => new(
        batch.Recipe.Key,
        batch.Recipe.Name,
        batch.Use,
        batch.Portions,
        [.. batch.Parts.Select(part => new PartAmount(part.Substance.Name, part.Grams, part.Millilitres, part.AsPrinted, Instead(part)))],
        batch.MillilitresEach,
        batch.MillilitresInAll,
        batch.Recipe.ReagentMolar,
        batch.ReagentMillimolesEach,
        batch.Recipe.Minutes,
        batch.Recipe.Method,
        batch.Recipe.Note,
        batch.Recipe.SourceKey,
        batch.Recipe.Locator,
        batch.Recipe.Verification);

    private PartInstead? Instead(RecipePart part) => part is { Substance.KindKey: not null, ReagentMillimoles: { } millimoles }
        && _forms.Find(form => form.MassShare < 1 && form.Formula == part.Substance.Formula) is { } wetted
            ? new PartInstead(wetted.Name, wetted.MilligramsOf(millimoles)!.Value / 1000)
            : null;

    // Recorded colours before expected ones; of a kind whose colour says nothing, what is recorded or nothing.
    private string? Colour()
    {
        var names = table.Colours.ToDictionary(colour => colour.Key, colour => colour.Name, StringComparer.Ordinal);
        var recorded = _listed.Select(row => row.ColourKey).OfType<string>().Distinct(StringComparer.Ordinal).Select(key => names[key]).ToList();
        if (recorded.Count > 0)
        {
            return $"{Or(recorded)}, as recorded for it";
        }

        var features = _environment?.Features ?? StructureFeature.None;
        var expected = table.ColourExpectations.Where(row => row.KindKey == _kind.Key).OrderBy(row => row.Order)
            .FirstOrDefault(row => StructureClass.Parse(row.StructureClass).Matches(features));
        return expected is null ? null : $"{Or([.. table.Colours.Where(colour => colour.Rank is not null).OrderBy(colour => colour.Rank)
            .Zip(expected.Weights).Where(of => of.Second >= LeastColourShare)
            .OrderByDescending(of => of.Second).Select(of => of.First.Name)])}, as expected of its structure";
    }

    private static string Or(List<string> words) =>
        words.Count < 2 ? string.Concat(words) : $"{string.Join(", ", words.SkipLast(1))} or {words[^1]}";

    private IEnumerable<string> Unsourced(List<RecipeBatch> batches, double? wait)
    {
        if (batches.TrueForAll(batch => batch.Use != RecipeUse.Tests))
        {
            yield return "a reagent for spot tests with it";
        }

        if (batches.TrueForAll(batch => batch.Use != RecipeUse.Derivatives))
        {
            yield return "amounts of solvent, acid or buffer for a derivative";
        }

        if (_forms.Count == 0)
        {
            yield return "the form its reagent is weighed in";
        }

        if (wait is null)
        {
            yield return "how long to wait before it is nothing";
        }
    }

    private List<CautionOfSheet> Cautions(List<RecipeBatch> batches)
    {
        var handled = batches.SelectMany(batch => batch.Recipe.Parts).Select(part => part.Substance).Concat(_forms)
            .Where(substance => substance.Cautions is not null)
            .DistinctBy(substance => substance.Key)
            .Select(substance => new CautionOfSheet(substance.Name, substance.CanExplode, substance.Cautions!));
        var compound = order.Parent is not { } parent ? new CautionOfSheet(Unknown, false, "It may be toxic, corrosive or flammable: handle it as if it were all of these.")
            : parent.Hazards is { } hazards ? new CautionOfSheet(parent.Name, false, hazards)
            : null;
        return
        [
            .. new[] { new CautionOfSheet(_kind.ReagentName, _kind.CanExplode, _kind.Cautions) }
                .Concat(handled)
                .Concat(compound is null ? [] : [compound])
                .OrderByDescending(caution => caution.CanExplode),
        ];
    }
}

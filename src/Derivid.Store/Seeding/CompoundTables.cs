using Derivid.Core.Compounds;

namespace Derivid.Store.Seeding;

/// <summary>The table files of sources, parents, their constants, derivative kinds and derivatives.</summary>
public static class CompoundTables
{
    /// <summary>sources.csv.</summary>
    public static CsvTable<Source> Sources { get; } = new(
        "sources.csv",
        row => new Source(
            row.Text("source_key"),
            row.Text("citation"),
            row.OptionalText("address"),
            row.Keyword<SourceGrade>("grade"),
            row.Text("family"),
            row.Text("how_read")),
        ("source_key", nameof(Source.Key), source => source.Key),
        ("citation", nameof(Source.Citation), source => source.Citation),
        ("address", nameof(Source.Address), source => source.Address ?? ""),
        ("grade", nameof(Source.Grade), source => Keyword.Of(source.Grade)),
        ("family", nameof(Source.Family), source => source.Family),
        ("how_read", nameof(Source.HowRead), source => source.HowRead));

    /// <summary>parents.csv.</summary>
    public static CsvTable<Parent> Parents { get; } = new(
        "parents.csv",
        row => new Parent
        {
            Key = row.Text("parent_key"),
            Name = row.Text("name"),
            Synonyms = row.Texts("synonyms"),
            CasNumber = row.Text("cas_number"),
            Smiles = row.Text("smiles"),
            Formula = row.Text("formula"),
            MolarMass = row.Number("molar_mass_g_mol"),
            Kind = row.Keyword<ParentKind>("kind"),
            Hazards = row.OptionalText("hazards"),
            Note = row.OptionalText("note"),
        },
        ("parent_key", nameof(Parent.Key), parent => parent.Key),
        ("name", nameof(Parent.Name), parent => parent.Name),
        ("synonyms", nameof(Parent.Synonyms), parent => CsvCell.Of(parent.Synonyms)),
        ("cas_number", nameof(Parent.CasNumber), parent => parent.CasNumber),
        ("smiles", nameof(Parent.Smiles), parent => parent.Smiles),
        ("formula", nameof(Parent.Formula), parent => parent.Formula),
        ("molar_mass_g_mol", nameof(Parent.MolarMass), parent => CsvCell.Of(parent.MolarMass)),
        ("kind", nameof(Parent.Kind), parent => Keyword.Of(parent.Kind)),
        ("hazards", nameof(Parent.Hazards), parent => parent.Hazards ?? ""),
        ("note", nameof(Parent.Note), parent => parent.Note ?? ""));

    /// <summary>parent-constants.csv.</summary>
    public static CsvTable<ParentConstant> Constants { get; } = new(
        "parent-constants.csv",
        row => new ParentConstant(
            row.Text("parent_key"),
            row.Keyword<ParentProperty>("property"),
            row.Number("low"),
            row.Number("high"),
            row.OptionalNumber("pressure_kpa"),
            row.Text("source_key"),
            row.OptionalText("locator"),
            row.Keyword<Verification>("verification"),
            row.OptionalText("note")),
        ("parent_key", nameof(ParentConstant.ParentKey), constant => constant.ParentKey),
        ("property", nameof(ParentConstant.Property), constant => Keyword.Of(constant.Property)),
        ("low", nameof(ParentConstant.Low), constant => CsvCell.Of(constant.Low)),
        ("high", nameof(ParentConstant.High), constant => CsvCell.Of(constant.High)),
        ("pressure_kpa", nameof(ParentConstant.PressureKilopascals), constant => CsvCell.Of(constant.PressureKilopascals)),
        ("source_key", nameof(ParentConstant.SourceKey), constant => constant.SourceKey),
        ("locator", nameof(ParentConstant.Locator), constant => constant.Locator ?? ""),
        ("verification", nameof(ParentConstant.Verification), constant => Keyword.Of(constant.Verification)),
        ("note", nameof(ParentConstant.Note), constant => constant.Note ?? ""));

    /// <summary>derivative-kinds.csv.</summary>
    public static CsvTable<DerivativeKind> Kinds { get; } = new(
        "derivative-kinds.csv",
        row => new DerivativeKind
        {
            Key = row.Text("kind_key"),
            Name = row.Text("name"),
            Synonyms = row.Texts("synonyms"),
            ReagentName = row.Text("reagent_name"),
            ReagentSmiles = row.Text("reagent_smiles"),
            ReagentFormula = row.Text("reagent_formula"),
            ReagentMolarMass = row.Number("reagent_molar_mass_g_mol"),
            ReagentsPerCarbonyl = row.WholeNumber("reagents_per_carbonyl"),
            WatersPerCarbonyl = row.WholeNumber("waters_per_carbonyl"),
            AppliesTo = row.Text("applies_to"),
            ClosesTo = row.OptionalKeyword<ClosedRing>("closes_to"),
            TestKey = row.OptionalText("test_key"),
            ReagentMeltingCelsius = row.OptionalNumber("reagent_melting_celsius"),
            ColourInforms = row.YesNo("colour_informs"),
            RecrystallisationSolvents = row.Text("recrystallisation_solvents"),
            UsualLowCelsius = row.Number("usual_low_celsius"),
            UsualHighCelsius = row.Number("usual_high_celsius"),
            Minutes = row.Number("minutes"),
            Hazard = row.Keyword<Hazard>("hazard"),
            Cautions = row.Text("cautions"),
            SourceKey = row.Text("source_key"),
        },
        ("kind_key", nameof(DerivativeKind.Key), kind => kind.Key),
        ("name", nameof(DerivativeKind.Name), kind => kind.Name),
        ("synonyms", nameof(DerivativeKind.Synonyms), kind => CsvCell.Of(kind.Synonyms)),
        ("reagent_name", nameof(DerivativeKind.ReagentName), kind => kind.ReagentName),
        ("reagent_smiles", nameof(DerivativeKind.ReagentSmiles), kind => kind.ReagentSmiles),
        ("reagent_formula", nameof(DerivativeKind.ReagentFormula), kind => kind.ReagentFormula),
        ("reagent_molar_mass_g_mol", nameof(DerivativeKind.ReagentMolarMass), kind => CsvCell.Of(kind.ReagentMolarMass)),
        ("reagents_per_carbonyl", nameof(DerivativeKind.ReagentsPerCarbonyl), kind => CsvCell.Of(kind.ReagentsPerCarbonyl)),
        ("waters_per_carbonyl", nameof(DerivativeKind.WatersPerCarbonyl), kind => CsvCell.Of(kind.WatersPerCarbonyl)),
        ("applies_to", nameof(DerivativeKind.AppliesTo), kind => kind.AppliesTo),
        ("closes_to", nameof(DerivativeKind.ClosesTo), kind => kind.ClosesTo is { } ring ? Keyword.Of(ring) : ""),
        ("test_key", nameof(DerivativeKind.TestKey), kind => kind.TestKey ?? ""),
        ("reagent_melting_celsius", nameof(DerivativeKind.ReagentMeltingCelsius), kind => CsvCell.Of(kind.ReagentMeltingCelsius)),
        ("colour_informs", nameof(DerivativeKind.ColourInforms), kind => CsvCell.Of(kind.ColourInforms)),
        ("recrystallisation_solvents", nameof(DerivativeKind.RecrystallisationSolvents), kind => kind.RecrystallisationSolvents),
        ("usual_low_celsius", nameof(DerivativeKind.UsualLowCelsius), kind => CsvCell.Of(kind.UsualLowCelsius)),
        ("usual_high_celsius", nameof(DerivativeKind.UsualHighCelsius), kind => CsvCell.Of(kind.UsualHighCelsius)),
        ("minutes", nameof(DerivativeKind.Minutes), kind => CsvCell.Of(kind.Minutes)),
        ("hazard", nameof(DerivativeKind.Hazard), kind => Keyword.Of(kind.Hazard)),
        ("cautions", nameof(DerivativeKind.Cautions), kind => kind.Cautions),
        ("source_key", nameof(DerivativeKind.SourceKey), kind => kind.SourceKey));

    /// <summary>derivatives.csv.</summary>
    public static CsvTable<Derivative> Derivatives { get; } = new(
        "derivatives.csv",
        row => new Derivative
        {
            Key = row.Text("derivative_key"),
            ParentKey = row.Text("parent_key"),
            KindKey = row.Text("kind_key"),
            CarbonylsCondensed = row.WholeNumber("carbonyls_condensed"),
            Form = row.OptionalText("form"),
            LowCelsius = row.Number("low_celsius"),
            HighCelsius = row.Number("high_celsius"),
            Decomposes = row.YesNo("decomposes"),
            ColourKey = row.OptionalText("colour_key"),
            SourceKey = row.Text("source_key"),
            Locator = row.OptionalText("locator"),
            AsPrinted = row.Text("as_printed"),
            Corrected = row.YesNoUnstated("corrected"),
            Verification = row.Keyword<Verification>("verification"),
            Note = row.OptionalText("note"),
        },
        ("derivative_key", nameof(Derivative.Key), derivative => derivative.Key),
        ("parent_key", nameof(Derivative.ParentKey), derivative => derivative.ParentKey),
        ("kind_key", nameof(Derivative.KindKey), derivative => derivative.KindKey),
        ("carbonyls_condensed", nameof(Derivative.CarbonylsCondensed), derivative => CsvCell.Of(derivative.CarbonylsCondensed)),
        ("form", nameof(Derivative.Form), derivative => derivative.Form ?? ""),
        ("low_celsius", nameof(Derivative.LowCelsius), derivative => CsvCell.Of(derivative.LowCelsius)),
        ("high_celsius", nameof(Derivative.HighCelsius), derivative => CsvCell.Of(derivative.HighCelsius)),
        ("decomposes", nameof(Derivative.Decomposes), derivative => CsvCell.Of(derivative.Decomposes)),
        ("colour_key", nameof(Derivative.ColourKey), derivative => derivative.ColourKey ?? ""),
        ("source_key", nameof(Derivative.SourceKey), derivative => derivative.SourceKey),
        ("locator", nameof(Derivative.Locator), derivative => derivative.Locator ?? ""),
        ("as_printed", nameof(Derivative.AsPrinted), derivative => derivative.AsPrinted),
        ("corrected", nameof(Derivative.Corrected), derivative => CsvCell.OrUnstated(derivative.Corrected)),
        ("verification", nameof(Derivative.Verification), derivative => Keyword.Of(derivative.Verification)),
        ("note", nameof(Derivative.Note), derivative => derivative.Note ?? ""));
}

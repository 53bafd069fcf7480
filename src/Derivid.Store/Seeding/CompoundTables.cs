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
        ("source_key", source => source.Key),
        ("citation", source => source.Citation),
        ("address", source => source.Address ?? ""),
        ("grade", source => Keyword.Of(source.Grade)),
        ("family", source => source.Family),
        ("how_read", source => source.HowRead));

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
        ("parent_key", parent => parent.Key),
        ("name", parent => parent.Name),
        ("synonyms", parent => CsvCell.Of(parent.Synonyms)),
        ("cas_number", parent => parent.CasNumber),
        ("smiles", parent => parent.Smiles),
        ("formula", parent => parent.Formula),
        ("molar_mass_g_mol", parent => CsvCell.Of(parent.MolarMass)),
        ("kind", parent => Keyword.Of(parent.Kind)),
        ("hazards", parent => parent.Hazards ?? ""),
        ("note", parent => parent.Note ?? ""));

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
        ("parent_key", constant => constant.ParentKey),
        ("property", constant => Keyword.Of(constant.Property)),
        ("low", constant => CsvCell.Of(constant.Low)),
        ("high", constant => CsvCell.Of(constant.High)),
        ("pressure_kpa", constant => CsvCell.Of(constant.PressureKilopascals)),
        ("source_key", constant => constant.SourceKey),
        ("locator", constant => constant.Locator ?? ""),
        ("verification", constant => Keyword.Of(constant.Verification)),
        ("note", constant => constant.Note ?? ""));

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
        ("kind_key", kind => kind.Key),
        ("name", kind => kind.Name),
        ("synonyms", kind => CsvCell.Of(kind.Synonyms)),
        ("reagent_name", kind => kind.ReagentName),
        ("reagent_smiles", kind => kind.ReagentSmiles),
        ("reagent_formula", kind => kind.ReagentFormula),
        ("reagent_molar_mass_g_mol", kind => CsvCell.Of(kind.ReagentMolarMass)),
        ("reagents_per_carbonyl", kind => CsvCell.Of(kind.ReagentsPerCarbonyl)),
        ("waters_per_carbonyl", kind => CsvCell.Of(kind.WatersPerCarbonyl)),
        ("applies_to", kind => kind.AppliesTo),
        ("reagent_melting_celsius", kind => CsvCell.Of(kind.ReagentMeltingCelsius)),
        ("colour_informs", kind => CsvCell.Of(kind.ColourInforms)),
        ("recrystallisation_solvents", kind => kind.RecrystallisationSolvents),
        ("usual_low_celsius", kind => CsvCell.Of(kind.UsualLowCelsius)),
        ("usual_high_celsius", kind => CsvCell.Of(kind.UsualHighCelsius)),
        ("minutes", kind => CsvCell.Of(kind.Minutes)),
        ("hazard", kind => Keyword.Of(kind.Hazard)),
        ("cautions", kind => kind.Cautions),
        ("source_key", kind => kind.SourceKey));

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
        ("derivative_key", derivative => derivative.Key),
        ("parent_key", derivative => derivative.ParentKey),
        ("kind_key", derivative => derivative.KindKey),
        ("carbonyls_condensed", derivative => CsvCell.Of(derivative.CarbonylsCondensed)),
        ("form", derivative => derivative.Form ?? ""),
        ("low_celsius", derivative => CsvCell.Of(derivative.LowCelsius)),
        ("high_celsius", derivative => CsvCell.Of(derivative.HighCelsius)),
        ("decomposes", derivative => CsvCell.Of(derivative.Decomposes)),
        ("colour_key", derivative => derivative.ColourKey ?? ""),
        ("source_key", derivative => derivative.SourceKey),
        ("locator", derivative => derivative.Locator ?? ""),
        ("as_printed", derivative => derivative.AsPrinted),
        ("corrected", derivative => CsvCell.OrUnstated(derivative.Corrected)),
        ("verification", derivative => Keyword.Of(derivative.Verification)),
        ("note", derivative => derivative.Note ?? ""));
}

using Derivid.Core.Compounds;

namespace Derivid.Contracts;

/// <summary>A parent carbonyl compound.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Name">The name shown.</param>
/// <param name="Synonyms">Other names accepted in requests.</param>
/// <param name="CasNumber">CAS Registry Number.</param>
/// <param name="Smiles">Structure in the OpenSMILES notation.</param>
/// <param name="Formula">Molecular formula in Hill order.</param>
/// <param name="MolarMassGramsPerMole">Molar mass. Units: g/mol.</param>
/// <param name="Kind">The carbonyl function it brings.</param>
/// <param name="Hazards">Cautions for the compound itself. Missing: none recorded, which does not mean none.</param>
/// <param name="Note">A curator's remark. Missing: none.</param>
public sealed record ParentItem(
    string Key,
    string Name,
    IReadOnlyList<string> Synonyms,
    string CasNumber,
    string Smiles,
    string Formula,
    double MolarMassGramsPerMole,
    ParentKind Kind,
    string? Hazards,
    string? Note);

/// <summary>A parent with everything the table holds of it.</summary>
/// <param name="TableVersion">Version of the reference table.</param>
/// <param name="Parent">The compound.</param>
/// <param name="Constants">Its boiling points, melting points and enthalpies of fusion.</param>
/// <param name="Derivatives">Its derivative records; sources that disagree are all listed.</param>
public sealed record ParentDetail(
    int TableVersion,
    ParentItem Parent,
    IReadOnlyList<ConstantItem> Constants,
    IReadOnlyList<DerivativeItem> Derivatives);

/// <summary>One printed physical constant of a parent.</summary>
/// <param name="Property">What was measured.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Low">Lower end of the printed span.</param>
/// <param name="High">Upper end, equal to the lower where one figure is printed.</param>
/// <param name="PressureKilopascals">Pressure of a boiling point. Units: kPa. Missing: not a boiling point.</param>
/// <param name="Source">Key of the source.</param>
/// <param name="Locator">Table, page or entry. Missing: not recorded.</param>
/// <param name="Verification">How far the value was followed back.</param>
/// <param name="Note">A curator's remark. Missing: none.</param>
public sealed record ConstantItem(
    ParentProperty Property,
    string Unit,
    double Low,
    double High,
    double? PressureKilopascals,
    string Source,
    string? Locator,
    Verification Verification,
    string? Note);

/// <summary>One printed melting range of one derivative of one parent.</summary>
public sealed record DerivativeItem
{
    /// <summary>Stable key of the record.</summary>
    public required string Key { get; init; }

    /// <summary>Key of the parent.</summary>
    public required string Parent { get; init; }

    /// <summary>Name of the parent.</summary>
    public required string ParentName { get; init; }

    /// <summary>Key of the derivative kind.</summary>
    public required string Kind { get; init; }

    /// <summary>Carbonyl groups that reacted.</summary>
    public required int CarbonylsCondensed { get; init; }

    /// <summary>Polymorph, E/Z form, enantiomer or hydrate. Missing: unstated.</summary>
    public string? Form { get; init; }

    /// <summary>Lower end of the printed range. Units: °C.</summary>
    public required double LowCelsius { get; init; }

    /// <summary>Upper end of the printed range. Units: °C.</summary>
    public required double HighCelsius { get; init; }

    /// <summary>Whether it lies outside the usual span of its kind: a curator looked again, and it stands.</summary>
    public required bool IsUnusual { get; init; }

    /// <summary>Whether the source says it melts with decomposition.</summary>
    public required bool Decomposes { get; init; }

    /// <summary>Key of the recorded colour. Missing: none recorded.</summary>
    public string? Colour { get; init; }

    /// <summary>Key of the source.</summary>
    public required string Source { get; init; }

    /// <summary>Table, page or entry. Missing: not recorded.</summary>
    public string? Locator { get; init; }

    /// <summary>The range as the source prints it, or as recalled.</summary>
    public required string AsPrinted { get; init; }

    /// <summary>Whether the source says the thermometer was corrected. Missing: unstated.</summary>
    public bool? Corrected { get; init; }

    /// <summary>How far the value was followed back.</summary>
    public required Verification Verification { get; init; }

    /// <summary>A curator's remark. Missing: none.</summary>
    public string? Note { get; init; }
}

/// <summary>A kind of derivative, with its reagent and what to expect of it.</summary>
public sealed record DerivativeKindItem
{
    /// <summary>Stable key.</summary>
    public required string Key { get; init; }

    /// <summary>The name shown.</summary>
    public required string Name { get; init; }

    /// <summary>Other names accepted in requests.</summary>
    public required IReadOnlyList<string> Synonyms { get; init; }

    /// <summary>The reagent.</summary>
    public required ReagentItem Reagent { get; init; }

    /// <summary>Molecules of reagent taken up by one carbonyl group.</summary>
    public required int ReagentsPerCarbonyl { get; init; }

    /// <summary>Molecules of water given off by one carbonyl group.</summary>
    public required int WatersPerCarbonyl { get; init; }

    /// <summary>The ring that a 1,3-dicarbonyl compound may close with the reagent instead. Missing: none.</summary>
    public ClosedRing? ClosesTo { get; init; }

    /// <summary>Key of the spot test run with the reagent, which is the same mixing. Missing: none.</summary>
    public string? TestKey { get; init; }

    /// <summary>Whether its colour says something about the parent.</summary>
    public required bool ColourInforms { get; init; }

    /// <summary>Solvents it is usually recrystallised from.</summary>
    public required string RecrystallisationSolvents { get; init; }

    /// <summary>Usual lowest melting point. Units: °C.</summary>
    public required double UsualLowCelsius { get; init; }

    /// <summary>Usual highest melting point. Units: °C.</summary>
    public required double UsualHighCelsius { get; init; }

    /// <summary>Rough time to make, dry and melt it. Units: min.</summary>
    public required double Minutes { get; init; }

    /// <summary>Rough hazard class; it replaces no risk assessment.</summary>
    public required Hazard Hazard { get; init; }

    /// <summary>The usual cautions; local rules and the supplier's safety data sheet decide.</summary>
    public required string Cautions { get; init; }

    /// <summary>Key of the source.</summary>
    public required string Source { get; init; }

    /// <summary>How many records of this kind the table holds.</summary>
    public required int Records { get; init; }

    /// <summary>Colours expected by structural class; the first class that fits applies.</summary>
    public required IReadOnlyList<ColourExpectationItem> ColourExpectations { get; init; }
}

/// <summary>The reagent a derivative is made with, as the free base.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Smiles">Structure in the OpenSMILES notation.</param>
/// <param name="Formula">Molecular formula in Hill order.</param>
/// <param name="MolarMassGramsPerMole">Molar mass. Units: g/mol.</param>
public sealed record ReagentItem(string Name, string Smiles, string Formula, double MolarMassGramsPerMole);

/// <summary>One step of the ordered vocabulary of precipitate colours.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Name">The name shown.</param>
/// <param name="Rank">Place in the order, palest first, from 0.</param>
/// <param name="Synonyms">Other words accepted in requests.</param>
public sealed record ColourItem(string Key, string Name, int Rank, IReadOnlyList<string> Synonyms);

/// <summary>The colours expected of one derivative kind for parents of one structural class.</summary>
/// <param name="Order">Classes are tried in this order.</param>
/// <param name="StructureClass">Features the parent must all have, joined by "+", or "any".</param>
/// <param name="Probabilities">Probability by key of the colour; they sum to 1.</param>
/// <param name="IsAssumed">Whether they are assumed, for want of published frequencies.</param>
/// <param name="Source">Key of the source.</param>
/// <param name="Note">A curator's remark. Missing: none.</param>
public sealed record ColourExpectationItem(
    int Order,
    string StructureClass,
    IReadOnlyDictionary<string, double> Probabilities,
    bool IsAssumed,
    string Source,
    string? Note);

/// <summary>A spot test, the question it asks and how parents answer it.</summary>
public sealed record SpotTestItem
{
    /// <summary>Stable key.</summary>
    public required string Key { get; init; }

    /// <summary>The name shown.</summary>
    public required string Name { get; init; }

    /// <summary>Other names accepted in requests.</summary>
    public required IReadOnlyList<string> Synonyms { get; init; }

    /// <summary>The question it shares with the other tests of its family.</summary>
    public required QuestionItem Question { get; init; }

    /// <summary>What a positive looks like.</summary>
    public required string PositiveLooksLike { get; init; }

    /// <summary>Read the outcome within this time. Units: min.</summary>
    public required double ReadWithinMinutes { get; init; }

    /// <summary>Rough time to run it. Units: min.</summary>
    public required double Minutes { get; init; }

    /// <summary>Rough hazard class; it replaces no risk assessment.</summary>
    public required Hazard Hazard { get; init; }

    /// <summary>The usual cautions; local rules and the supplier's safety data sheet decide.</summary>
    public required string Cautions { get; init; }

    /// <summary>Probability of a positive from a sample that answers the question yes.</summary>
    public required double PositiveRateIfYes { get; init; }

    /// <summary>Probability of a positive from a sample that answers the question no.</summary>
    public required double PositiveRateIfNo { get; init; }

    /// <summary>Published false positives and negatives. Missing: none recorded.</summary>
    public string? KnownExceptions { get; init; }

    /// <summary>Key of the source.</summary>
    public required string Source { get; init; }

    /// <summary>How classes of parents answer it; the first that fits applies.</summary>
    public required IReadOnlyList<ResponseItem> Responses { get; init; }
}

/// <summary>The question a family of spot tests asks.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Text">The question in words.</param>
/// <param name="ContraryRate">Probability that a sample as a whole answers against its structure.</param>
/// <param name="IsAssumed">Whether the rate is assumed, for want of published ones.</param>
/// <param name="Source">Key of the source.</param>
public sealed record QuestionItem(string Key, string Text, double ContraryRate, bool IsAssumed, string Source);

/// <summary>How the parents of one structural class, or one named parent, answer a test.</summary>
/// <param name="Order">Rows are tried in this order.</param>
/// <param name="AppliesTo">Features joined by "+", "any", or "parent:" and a key.</param>
/// <param name="PositiveRate">Probability that a clean sample gives a positive.</param>
/// <param name="AnswersYes">Whether such a parent answers the family's question yes.</param>
/// <param name="IsAssumed">Whether the rate is assumed, for want of published ones.</param>
/// <param name="Source">Key of the source.</param>
/// <param name="Note">Why, in the words of the bench. Missing: none.</param>
public sealed record ResponseItem(
    int Order, string AppliesTo, double PositiveRate, bool AnswersYes, bool IsAssumed, string Source, string? Note);

/// <summary>A substance whose melting point calibrates a thermometer.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Name">The name shown.</param>
/// <param name="CasNumber">CAS Registry Number.</param>
/// <param name="ClearPointCelsius">Accepted temperature at which the last crystal goes. Units: °C.</param>
/// <param name="Source">Key of the source.</param>
/// <param name="Verification">How far the value was followed back.</param>
/// <param name="Note">A curator's remark. Missing: none.</param>
public sealed record StandardItem(
    string Key,
    string Name,
    string CasNumber,
    double ClearPointCelsius,
    string Source,
    Verification Verification,
    string? Note);

/// <summary>Where values were printed.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Citation">Full citation, or a plain statement that there is none.</param>
/// <param name="Address">DOI or web address. Missing: none.</param>
/// <param name="Grade">How the source got its values.</param>
/// <param name="Family">Sources of one family may copy each other and are not independent evidence.</param>
/// <param name="HowRead">How the values came into the table.</param>
public sealed record SourceItem(
    string Key, string Citation, string? Address, SourceGrade Grade, string Family, SourceReading HowRead);

/// <summary>A released version of the reference table.</summary>
/// <param name="Number">Its number, from 1.</param>
/// <param name="IsCurrent">Whether it is the one used when nothing else is asked for.</param>
/// <param name="ReleasedAt">When it was released (RFC 3339, UTC).</param>
/// <param name="Note">Why it was released.</param>
/// <param name="ContentSha256">SHA-256 over its rows, in hexadecimal.</param>
/// <param name="Sources">How many sources it holds.</param>
/// <param name="Parents">How many parents.</param>
/// <param name="DerivativeKinds">How many kinds of derivative.</param>
/// <param name="Derivatives">How many derivative records.</param>
/// <param name="SpotTests">How many spot tests.</param>
public sealed record TableVersionItem(
    int Number,
    bool IsCurrent,
    DateTime ReleasedAt,
    string Note,
    string ContentSha256,
    int Sources,
    int Parents,
    int DerivativeKinds,
    int Derivatives,
    int SpotTests);

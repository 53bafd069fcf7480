using System.ComponentModel.DataAnnotations;
using System.Diagnostics.CodeAnalysis;
using System.Text.Json.Serialization;
using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;

namespace Derivid.Contracts;

// A record of the table is written as Core keeps it, wherever it is written: in lists, exports and proposals. What the
// service works out of it stands in one member, "computed", which is passed over when the record is sent back.

/// <summary>A parent with everything the table holds of it.</summary>
/// <param name="TableVersion">Version of the reference table.</param>
/// <param name="Parent">The compound.</param>
/// <param name="Constants">Its boiling points, melting points and enthalpies of fusion.</param>
/// <param name="Derivatives">Its derivative records; sources that disagree are all listed.</param>
public sealed record ParentDetail(
    int TableVersion,
    Parent Parent,
    IReadOnlyList<ConstantItem> Constants,
    IReadOnlyList<DerivativeItem> Derivatives);

/// <summary>One printed boiling point, melting point or enthalpy of fusion of a parent, with its unit.</summary>
public sealed record ConstantItem : ParentConstant
{
    /// <summary>An empty one, to be read into.</summary>
    public ConstantItem()
    {
    }

    /// <summary>A record with what follows from it.</summary>
    /// <param name="row">The record.</param>
    /// <param name="computed">What follows.</param>
    [SetsRequiredMembers]
    public ConstantItem(ParentConstant row, ComputedOfConstant computed)
        : base(row) => Computed = computed;

    /// <summary>What follows from the record. Passed over when the record is sent back.</summary>
    [JsonPropertyOrder(1)]
    public required ComputedOfConstant Computed { get; init; }
}

/// <summary>What follows from a constant.</summary>
/// <param name="Unit">Unit of its figures.</param>
public sealed record ComputedOfConstant(string Unit);

/// <summary>One printed melting range of one derivative of one parent.</summary>
public sealed record DerivativeItem : Derivative
{
    /// <summary>An empty one, to be read into.</summary>
    public DerivativeItem()
    {
    }

    /// <summary>A record with what follows from it.</summary>
    /// <param name="row">The record.</param>
    /// <param name="computed">What follows.</param>
    [SetsRequiredMembers]
    public DerivativeItem(Derivative row, ComputedOfDerivative computed)
        : base(row) => Computed = computed;

    /// <summary>What follows from the record. Passed over when the record is sent back.</summary>
    [JsonPropertyOrder(1)]
    public required ComputedOfDerivative Computed { get; init; }
}

/// <summary>What follows from a derivative record.</summary>
/// <param name="ParentName">Name of the parent.</param>
public sealed record ComputedOfDerivative(string ParentName);

/// <summary>A kind of derivative, with its reagent and what to expect of it.</summary>
public sealed record DerivativeKindItem : DerivativeKind
{
    /// <summary>An empty one, to be read into.</summary>
    public DerivativeKindItem()
    {
    }

    /// <summary>A record with what follows from it.</summary>
    /// <param name="row">The record.</param>
    /// <param name="computed">What follows.</param>
    [SetsRequiredMembers]
    public DerivativeKindItem(DerivativeKind row, ComputedOfDerivativeKind computed)
        : base(row) => Computed = computed;

    /// <summary>What the table holds of the kind. Passed over when the record is sent back.</summary>
    [JsonPropertyOrder(1)]
    public required ComputedOfDerivativeKind Computed { get; init; }
}

/// <summary>What the table holds of a kind of derivative.</summary>
/// <param name="Records">How many derivative records.</param>
/// <param name="ColourExpectations">Colours expected by structural class; the first class that fits applies.</param>
public sealed record ComputedOfDerivativeKind(int Records, IReadOnlyList<ColourExpectation> ColourExpectations);

/// <summary>A spot test, the question it asks and how parents answer it.</summary>
public sealed record SpotTestItem : SpotTest
{
    /// <summary>An empty one, to be read into.</summary>
    public SpotTestItem()
    {
    }

    /// <summary>A record with what follows from it.</summary>
    /// <param name="row">The record.</param>
    /// <param name="computed">What follows.</param>
    [SetsRequiredMembers]
    public SpotTestItem(SpotTest row, ComputedOfSpotTest computed)
        : base(row) => Computed = computed;

    /// <summary>What the table holds of the test. Passed over when the record is sent back.</summary>
    [JsonPropertyOrder(1)]
    public required ComputedOfSpotTest Computed { get; init; }
}

/// <summary>What the table holds of a spot test.</summary>
/// <param name="Question">The question it shares with the other tests of its family.</param>
/// <param name="Responses">How classes of parents answer it; the first that fits applies.</param>
public sealed record ComputedOfSpotTest(SpotTestQuestion Question, IReadOnlyList<SpotTestResponse> Responses);

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

/// <summary>What every list of the table can be asked.</summary>
public record TableQuery : PageQuery
{
    /// <summary>Version of the reference table. Missing: the current one, or the one the cursor began with.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }
}

/// <summary>Which version of the table to look into.</summary>
public sealed record VersionQuery
{
    /// <summary>Version of the reference table. Missing: the current one.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }
}

/// <summary>Which parents to list.</summary>
public sealed record ParentQuery : TableQuery
{
    /// <summary>Letters that name, synonym, key, CAS number or formula must hold, in either case.</summary>
    public string? Q { get; init; }

    /// <summary>The carbonyl function it brings.</summary>
    public ParentKind? Kind { get; init; }

    /// <summary>Molecular formula in Hill order, exactly.</summary>
    public string? Formula { get; init; }

    /// <summary>A derivative kind (key, name or synonym) the parent must have a record of.</summary>
    public string? DerivativeKind { get; init; }
}

/// <summary>What to draw of a parent.</summary>
public sealed record DrawingOfParent
{
    /// <summary>The kind of derivative to draw: key, name or synonym. Missing: the parent itself.</summary>
    public string? Kind { get; init; }

    /// <summary>
    /// Carbonyl groups that reacted. Missing: as the table's records of the derivative have it, the fewest where they
    /// differ; 1 where there is none. Only together with a kind.
    /// </summary>
    [Range(1, 10)]
    public int? CarbonylsCondensed { get; init; }

    /// <summary>Version of the reference table. Missing: the current one.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }
}

/// <summary>Which derivative records to list.</summary>
public sealed record DerivativeQuery : TableQuery
{
    /// <summary>Distance allowed when nothing is said. Units: °C.</summary>
    public const double DefaultWithinCelsius = 5;

    /// <summary>The parent: key, name, synonym or CAS number.</summary>
    public string? Parent { get; init; }

    /// <summary>The derivative kind: key, name or synonym.</summary>
    public string? Kind { get; init; }

    /// <summary>Key of the source.</summary>
    public string? SourceKey { get; init; }

    /// <summary>How far the value was followed back.</summary>
    public Verification? Verification { get; init; }

    /// <summary>A temperature the listed range must come near; closest records first. Units: °C.</summary>
    [Range(MeltingRange.LowestCelsius, MeltingRange.HighestCelsius)]
    public double? Near { get; init; }

    /// <summary>How near. Units: °C. Missing: 5. Only together with near.</summary>
    [Range(0.0, 100.0)]
    public double? Within { get; init; }
}

/// <summary>Which spot tests to list.</summary>
public sealed record SpotTestQuery : TableQuery
{
    /// <summary>Key of the question the test asks, which its family shares.</summary>
    public string? QuestionKey { get; init; }
}

using Derivid.Core.Structures;

namespace Derivid.Core.SpotTests;

/// <summary>Which parents a <see cref="SpotTestResponse"/> is for: one alone, or a class of structures.</summary>
/// <param name="ParentKey">Key of the one parent. Missing: null, it is for the class.</param>
/// <param name="Structures">The class.</param>
public sealed record RespondingClass(string? ParentKey, StructureClass Structures)
{
    private const string SingleParent = "parent:";

    /// <summary>Reads it.</summary>
    /// <param name="appliesTo">See <see cref="SpotTestResponse.AppliesTo"/>.</param>
    /// <exception cref="ArgumentException">It is no class of structures.</exception>
    public static RespondingClass Parse(string appliesTo) => ParentOf(appliesTo) is { } parent
        ? new RespondingClass(parent, StructureClass.Any)
        : new RespondingClass(null, StructureClass.Parse(appliesTo));

    /// <summary>The one parent that a response names.</summary>
    /// <param name="appliesTo">See <see cref="SpotTestResponse.AppliesTo"/>.</param>
    /// <returns>Missing: null, it names a class.</returns>
    public static string? ParentOf(string appliesTo)
    {
        ArgumentNullException.ThrowIfNull(appliesTo);
        return appliesTo.StartsWith(SingleParent, StringComparison.Ordinal) ? appliesTo[SingleParent.Length..] : null;
    }

    /// <summary>Whether a structure answers so.</summary>
    /// <param name="parentKey">Key of the parent. Missing: null, it has none.</param>
    /// <param name="features">Its features.</param>
    public bool Holds(string? parentKey, StructureFeature features) =>
        ParentKey is null ? Structures.Matches(features) : ParentKey == parentKey;
}

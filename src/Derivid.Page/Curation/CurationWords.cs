using System.Text.Json;
using Derivid.Core.Curation;

namespace Derivid.Page.Curation;

/// <summary>Words of curation as a curator is told of them.</summary>
public static class CurationWords
{
    /// <summary>How far a proposal has come.</summary>
    /// <param name="state">How far.</param>
    public static string Of(ProposalState state) => state switch
    {
        ProposalState.Draft => "draft",
        ProposalState.Submitted => "waiting for review",
        ProposalState.Reviewed => "approved, not released",
        ProposalState.Released => "released",
        ProposalState.Withdrawn => "given up",
    };

    /// <summary>How far an import has come.</summary>
    /// <param name="state">How far.</param>
    public static string Of(ImportState state) => state switch
    {
        ImportState.Queued => "It waits for others to end.",
        ImportState.Running => "It is being read.",
        ImportState.Succeeded => "It was read to its end.",
        ImportState.Failed => "It could not be taken; nothing of it was.",
        ImportState.Cancelled => "It was called off; nothing of it was taken.",
        ImportState.Interrupted => "The service stopped while it was read; nothing of it was taken. Send it again.",
    };

    /// <summary>What becomes of a record.</summary>
    /// <param name="type">What.</param>
    public static string Of(ChangeType type) => type switch
    {
        ChangeType.Added => "added",
        ChangeType.Changed => "changed",
        ChangeType.Removed => "left out",
    };

    /// <summary>What a member of a record is called by whoever looks it up or types it.</summary>
    /// <param name="list">The list the record is of, such as "derivatives".</param>
    /// <param name="member">The member, as on the wire or as a heading of a file.</param>
    public static string Member(string list, string member)
    {
        ArgumentNullException.ThrowIfNull(member);
        var name = string.Concat(member.Split('_').Select((part, index) => index == 0 || part.Length == 0 ? part : char.ToUpperInvariant(part[0]) + part[1..]));
        return (list, name) switch
        {
            ("parent-constants", "low") => "lower end",
            ("parent-constants", "high") => "upper end",
            (_, "key") => "key",
            (_, "parentKey") => "compound",
            (_, "kindKey") => "kind of derivative",
            (_, "sourceKey") => "source",
            (_, "colourKey") => "colour",
            (_, "testKey") => "spot test",
            (_, "questionKey") => "question it asks",
            (_, "casNumber") => "CAS number",
            (_, "smiles") => "structure as SMILES",
            (_, "molarMass") => "molar mass, g/mol",
            ("parents", "kind") => "carbonyl function",
            (_, "commonness") => "how common",
            (_, "commonnessBasis") => "what that counts",
            (_, "hazards") => "cautions",
            (_, "synonyms") => "other names",
            (_, "property") => "what it is",
            (_, "pressureKilopascals") => "at a pressure of, kPa",
            (_, "locator") => "where in the source",
            (_, "verification") => "how far it was followed back",
            (_, "howRead") => "how its values came into the table",
            (_, "grade") => "how the source got its values",
            (_, "family") => "family: sources that may copy each other",
            (_, "address") => "web address or DOI",
            (_, "lowCelsius") => "melts from, °C",
            (_, "highCelsius") => "melts to, °C",
            (_, "carbonylsCondensed") => "carbonyl groups that reacted",
            (_, "form") => "which crystal form, isomer or hydrate",
            (_, "isUnusual") => "is it outside the usual span of its kind, and looked at again?",
            (_, "decomposes") => "does it decompose as it melts?",
            (_, "corrected") => "does the source say the thermometer was corrected?",
            (_, "asPrinted") => "as the source prints it",
            (_, "reagentName") => "reagent",
            (_, "reagentSmiles") => "the reagent’s structure as SMILES",
            (_, "reagentFormula") => "the reagent’s formula",
            (_, "reagentMolarMass") => "the reagent’s molar mass, g/mol",
            (_, "reagentMeltingCelsius") => "the reagent itself melts at, °C",
            (_, "reagentsPerCarbonyl") => "molecules of reagent for a carbonyl group",
            (_, "watersPerCarbonyl") => "molecules of water lost for a carbonyl group",
            (_, "colourInforms") => "does its colour tell anything?",
            (_, "recrystallisationSolvents") => "solvents to recrystallise from",
            (_, "usualLowCelsius") => "most of them melt from, °C",
            (_, "usualHighCelsius") => "most of them melt to, °C",
            (_, "clearPointCelsius") => "last crystal gone at, °C",
            (_, "minutes") => "time it takes, min",
            (_, "readWithinMinutes") => "read within, min",
            (_, "hazard") => "hazard",
            (_, "positiveLooksLike") => "a positive looks like",
            (_, "positiveRate") => "chance of a positive, of 1",
            (_, "positiveRateIfYes") => "chance of a positive where the answer is yes, of 1",
            (_, "positiveRateIfNo") => "chance of a positive where the answer is no, of 1",
            (_, "contraryRate") => "chance that a sample answers against its structure, of 1",
            (_, "knownExceptions") => "known exceptions",
            (_, "answersYes") => "do they answer yes?",
            (_, "isAssumed") => "is the figure assumed?",
            (_, "appliesTo") => "features of the compounds it is for",
            (_, "closesTo") => "ring it may close to instead",
            (_, "structureClass") => "class of compounds",
            (_, "weights") => "how often each colour, in order of rank",
            (_, "rank") => "place in the order of colours",
            (_, "order") => "place in the order of the rules",
            _ => Shown.Spaced(name),
        };
    }

    /// <summary>What a member of a record holds, for reading.</summary>
    /// <param name="record">The record. Missing: null, there is none.</param>
    /// <param name="member">The member.</param>
    public static string Cell(JsonElement? record, string member) =>
        record is { ValueKind: JsonValueKind.Object } json && json.TryGetProperty(member, out var value) ? Text(value, ", ") : "";

    /// <summary>A value of a record as it is typed: a list one a line.</summary>
    /// <param name="value">The value.</param>
    /// <param name="separator">What parts the entries of a list.</param>
    internal static string Text(JsonElement value, string separator) => value.ValueKind switch
    {
        JsonValueKind.Null or JsonValueKind.Undefined => "",
        JsonValueKind.String => value.GetString()!,
        JsonValueKind.Array => string.Join(separator, value.EnumerateArray().Select(entry => Text(entry, separator))),
        JsonValueKind.True => "true",
        JsonValueKind.False => "false",
        _ => value.GetRawText(),
    };
}

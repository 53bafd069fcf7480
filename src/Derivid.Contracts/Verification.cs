using System.ComponentModel.DataAnnotations;
using Derivid.Core.Compounds;
using Derivid.Core.Curation.Readings;

namespace Derivid.Contracts;

/// <summary>Which lines of a source to lay out.</summary>
public sealed record SheetQuery
{
    /// <summary>Lines on one page when nothing is said: about a page of a handbook.</summary>
    public const int DefaultLimit = 40;

    /// <summary>Key of the source in the reader's hand.</summary>
    public required string SourceKey { get; init; }

    /// <summary>Keys of kinds of derivative, parted by commas, in the order of the book's columns. Missing: all.</summary>
    [StringLength(1000)]
    public string? Kinds { get; init; }

    /// <summary>The order of the book. Missing: name.</summary>
    public SheetOrder? Order { get; init; }

    /// <summary>Which lines. Missing: recalled.</summary>
    public SheetScope? Scope { get; init; }

    /// <summary>Where the book's page begins: the first compound in this order whose name begins so. Missing: at the first line.</summary>
    public string? From { get; init; }

    /// <summary>Only lines among the first so many of those most worth checking, as that list has them. Missing: all.</summary>
    [Range(1, WorthQuery.MostLines)]
    public int? First { get; init; }

    /// <summary>A draft that adds the source, and whose version the sheet is of. Missing: the current version.</summary>
    public string? Proposal { get; init; }

    /// <summary>Most lines on one page. Missing: 40.</summary>
    [Range(1, 500)]
    public int? Limit { get; init; }

    /// <summary>Where to go on, as the last page's next link has it; it means nothing else. Missing: from the start.</summary>
    [StringLength(400)]
    public string? Cursor { get; init; }
}

/// <summary>A line to be typed from a source. It tells nothing of what the table has there.</summary>
/// <param name="Key">Names the line; readings are sent under it.</param>
/// <param name="ParentKey">Key of the parent.</param>
/// <param name="Name">Name of the parent.</param>
/// <param name="Formula">Its molecular formula.</param>
/// <param name="KindKey">Key of the kind of derivative.</param>
/// <param name="Kind">Its name.</param>
/// <param name="CarbonylsCondensed">Carbonyl groups that reacted.</param>
/// <param name="Form">The crystal form, isomer or hydrate. Missing: unstated.</param>
/// <param name="ReadersDiffer">Whether two people typed different things there, so that a third has to look.</param>
public sealed record SheetLineItem(
    string Key, string ParentKey, string Name, string Formula, string KindKey, string Kind, int CarbonylsCondensed, string? Form, bool ReadersDiffer)
{
    /// <summary>The columns of a sheet as CSV, in order; the last two are to be filled in.</summary>
    public static IReadOnlyList<string> Columns { get; } =
        ["key", "name", "formula", "kind", "carbonyls_condensed", "form", "readers_differ", "as_printed", "colour"];
}

/// <summary>From what, and into what, readings are sent.</summary>
public sealed record ReadingsQuery
{
    /// <summary>Key of the source they were typed from.</summary>
    public required string SourceKey { get; init; }

    /// <summary>Page, table or entry in it. Missing: not said.</summary>
    [StringLength(200)]
    public string? Locator { get; init; }

    /// <summary>A draft that what follows goes into. Missing: a new proposal, if anything follows.</summary>
    public string? Proposal { get; init; }
}

/// <summary>What somebody typed from a source.</summary>
public sealed record ReadingsRequest
{
    /// <summary>Most lines of one sheet.</summary>
    public const int MostReadings = 500;

    /// <summary>
    /// By the key of the line, what is printed: the range with "dec." where it stands, a colour of the table behind it, or "-"
    /// where the source prints none.
    /// </summary>
    [MinLength(1)]
    [MaxLength(MostReadings)]
    public required IReadOnlyDictionary<string, string> Readings { get; init; }
}

/// <summary>What became of a sheet.</summary>
/// <param name="Id">Names it in addresses.</param>
/// <param name="SourceKey">The source it was typed from.</param>
/// <param name="Locator">Page, table or entry. Missing: not said.</param>
/// <param name="ReadBy">Who typed it.</param>
/// <param name="ReadAt">When it was sent (RFC 3339, UTC).</param>
/// <param name="TableVersion">The version it was held against.</param>
/// <param name="ProposalId">The proposal that what follows went into. Missing: nothing follows yet.</param>
/// <param name="Lines">Its lines, in the order sent.</param>
public sealed record ReadSheetItem(
    string Id,
    string SourceKey,
    string? Locator,
    string ReadBy,
    DateTime ReadAt,
    int TableVersion,
    string? ProposalId,
    IReadOnlyList<ReadLineItem> Lines);

/// <summary>What became of a line.</summary>
/// <param name="Key">Names the line.</param>
/// <param name="Name">Name of the parent.</param>
/// <param name="Kind">Name of the kind of derivative.</param>
/// <param name="CarbonylsCondensed">Carbonyl groups that reacted.</param>
/// <param name="Form">The form. Missing: unstated.</param>
/// <param name="AsPrinted">The range typed. Missing: the source prints none.</param>
/// <param name="ColourKey">The colour typed. Missing: none.</param>
/// <param name="Verdict">What became of it.</param>
/// <param name="Listed">What that version of the table lists there.</param>
public sealed record ReadLineItem(
    string Key,
    string Name,
    string Kind,
    int CarbonylsCondensed,
    string? Form,
    string? AsPrinted,
    string? ColourKey,
    ReadingVerdict Verdict,
    IReadOnlyList<Derivative> Listed);

/// <summary>How far the table is read, source by source.</summary>
/// <param name="TableVersion">Version of the table.</param>
/// <param name="Recalled">Lines of it with a value that nobody has read.</param>
/// <param name="Sources">Every source that something was typed from, by key.</param>
public sealed record VerificationProgress(int TableVersion, int Recalled, IReadOnlyList<SourceProgress> Sources);

/// <summary>How far one source is read; of several readings of a line the last counts.</summary>
/// <param name="SourceKey">Key of the source.</param>
/// <param name="Citation">Its citation. Missing: the table has no such source yet, a proposal adds it.</param>
/// <param name="Read">Lines typed.</param>
/// <param name="Agrees">Lines where the table listed the same.</param>
/// <param name="Differs">Lines where it listed something else.</param>
/// <param name="NotPrinted">Lines that the source doesn't print.</param>
/// <param name="AwaitsSecondReader">Lines that a second person has to type.</param>
/// <param name="ReadersDiffer">Lines where two people differ.</param>
public sealed record SourceProgress(
    string SourceKey, string? Citation, int Read, int Agrees, int Differs, int NotPrinted, int AwaitsSecondReader, int ReadersDiffer);

/// <summary>Which lines most worth checking are wanted.</summary>
public sealed record WorthQuery
{
    /// <summary>Most lines of one answer.</summary>
    public const int MostLines = 1000;

    /// <summary>Lines when nothing is said: a long afternoon's.</summary>
    public const int DefaultLines = 100;

    /// <summary>Whose unknowns they are reckoned for. Missing: anyone's.</summary>
    public UnknownsOf? Unknowns { get; init; }

    /// <summary>Keys of kinds of derivative, parted by commas. Missing: all.</summary>
    [StringLength(1000)]
    public string? Kinds { get; init; }

    /// <summary>Most lines. Missing: 100.</summary>
    [Range(1, MostLines)]
    public int? Limit { get; init; }
}

/// <summary>Whose unknowns something is reckoned for.</summary>
public enum UnknownsOf
{
    /// <summary>Anyone's: each compound as common as the table says it is.</summary>
    Anyone,

    /// <summary>
    /// Those of courses with unknowns handed out whose staff you are of: what is on their shelves, each alike, of the kinds
    /// that they make.
    /// </summary>
    Courses,
}

/// <summary>The lines most worth checking.</summary>
/// <param name="TableVersion">Version of the table.</param>
/// <param name="ModelVersion">Version of the model.</param>
/// <param name="Unknowns">Whose unknowns it is reckoned for.</param>
/// <param name="Compared">
/// Of how many lines a recalled value could be held against a source; from these it is known how far others may be off. Fewer
/// than 20 tell nothing, and the list is empty then.
/// </param>
/// <param name="Apart">How many of these were more than 3 °C from the nearest source.</param>
/// <param name="Unread">Lines of which no value was read or confirmed.</param>
/// <param name="Lines">The first of them.</param>
public sealed record WorthChecking(
    int TableVersion, string ModelVersion, UnknownsOf Unknowns, int Compared, int Apart, int Unread, IReadOnlyList<WorthLineItem> Lines);

/// <summary>A line worth checking. It tells nothing of what the table has there.</summary>
/// <param name="Rank">Its place, from 1.</param>
/// <param name="Key">Names the line.</param>
/// <param name="ParentKey">Key of the parent.</param>
/// <param name="Name">Name of the parent.</param>
/// <param name="Formula">Its molecular formula.</param>
/// <param name="KindKey">Key of the kind of derivative.</param>
/// <param name="Kind">Its name.</param>
/// <param name="CarbonylsCondensed">Carbonyl groups that reacted.</param>
/// <param name="Form">The crystal form, isomer or hydrate. Missing: unstated.</param>
/// <param name="MoreRight">
/// How many more first answers would be right among a thousand unknowns that this kind of derivative is made of, and of which
/// nothing else is known.
/// </param>
public sealed record WorthLineItem(
    int Rank, string Key, string ParentKey, string Name, string Formula, string KindKey, string Kind, int CarbonylsCondensed, string? Form, double MoreRight);

using Derivid.Core.Compounds;

namespace Derivid.Core.Curation.Readings;

/// <summary>What one person typed for one line of a sheet, from one source, blind to what the table has; it stays for good.</summary>
public sealed record PrintedReading
{
    /// <summary>Names it; later ones have later ids.</summary>
    public required string Id { get; init; }

    /// <summary>The sheet it was sent with.</summary>
    public required string SheetId { get; init; }

    /// <summary>The source it was typed from.</summary>
    public required string SourceKey { get; init; }

    /// <summary>Key of the derivative record whose line it is.</summary>
    public required string RecordKey { get; init; }

    /// <summary>Page, table or entry. Missing: null.</summary>
    public string? Locator { get; init; }

    /// <summary>The range as printed. Missing: null, the source prints none.</summary>
    public string? AsPrinted { get; init; }

    /// <summary>The colour printed with it. Missing: null, none is.</summary>
    public string? ColourKey { get; init; }

    /// <summary>Who typed it.</summary>
    public required string ReadBy { get; init; }

    /// <summary>When. Units: UTC.</summary>
    public required DateTime ReadAtUtc { get; init; }

    /// <summary>The version of the table it was held against.</summary>
    public required int TableVersion { get; init; }

    /// <summary>What became of it.</summary>
    public required ReadingVerdict Verdict { get; init; }

    /// <summary>The proposal that what follows from its sheet went into. Missing: null, nothing followed.</summary>
    public string? ProposalId { get; init; }

    /// <summary>The value.</summary>
    public PrintedValue ToValue() => PrintedValue.Kept(AsPrinted, ColourKey);
}

/// <summary>What became of a reading when it was sent.</summary>
public enum ReadingVerdict
{
    /// <summary>The table lists the same.</summary>
    Agrees,

    /// <summary>The table lists something else.</summary>
    Differs,

    /// <summary>The source prints nothing there.</summary>
    NotPrinted,

    /// <summary>A course in use has the value on its shelf, so a second person has to type it too.</summary>
    AwaitsSecondReader,

    /// <summary>Another person typed something else; a third has to look.</summary>
    ReadersDiffer,
}

/// <summary>What one line of a sheet is of: a derivative of one parent in one form, however many records list it.</summary>
/// <param name="ParentKey">The parent.</param>
/// <param name="KindKey">The kind of derivative.</param>
/// <param name="CarbonylsCondensed">Carbonyl groups that reacted.</param>
/// <param name="Form">The form. Missing: null, unstated.</param>
public sealed record SheetPlace(string ParentKey, string KindKey, int CarbonylsCondensed, string? Form)
{
    /// <summary>The line a record belongs to.</summary>
    /// <param name="record">The record.</param>
    public static SheetPlace Of(Derivative record)
    {
        ArgumentNullException.ThrowIfNull(record);
        return new SheetPlace(record.ParentKey, record.KindKey, record.CarbonylsCondensed, record.Form);
    }
}

using Derivid.Core.Colours;
using Derivid.Core.Curation;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Compounds;

/// <summary>The whole reference table in one version, as its curators released it.</summary>
/// <remarks>
/// One list a kind of record. The lists that the laboratory reads have names of their own below; whatever is true of all
/// of them goes through <see cref="Lists"/>. Shape: every list is ordered by key (responses and expectations by test or
/// kind, then order; colours by rank). Thread safety: immutable.
/// </remarks>
public sealed record ReferenceTable
{
    private static readonly ReferenceTable Nothing = new()
    {
        Version = 0,
        Sources = [],
        Parents = [],
        Constants = [],
        Kinds = [],
        Derivatives = [],
        Questions = [],
        SpotTests = [],
        Responses = [],
        Colours = [],
        ColourExpectations = [],
        Standards = [],
    };

    private readonly TableLayout _layout = TableLayout.Standard;

    // Never changed once it is here; a copy of the table with another list has a copy of this.
    private readonly Dictionary<RecordKind, IReadOnlyList<object>> _rows = [];

    /// <summary>The version's number, from 1.</summary>
    public required int Version { get; init; }

    /// <summary>Everything the other rows cite.</summary>
    public required IReadOnlyList<Source> Sources
    {
        get => RowsOf(RecordKinds.Sources);
        init => _rows = Replaced(RecordKinds.Sources, value);
    }

    /// <summary>The parent compounds.</summary>
    public required IReadOnlyList<Parent> Parents
    {
        get => RowsOf(RecordKinds.Parents);
        init => _rows = Replaced(RecordKinds.Parents, value);
    }

    /// <summary>Their boiling points, melting points and enthalpies of fusion.</summary>
    public required IReadOnlyList<ParentConstant> Constants
    {
        get => RowsOf(RecordKinds.ParentConstants);
        init => _rows = Replaced(RecordKinds.ParentConstants, value);
    }

    /// <summary>The kinds of derivative.</summary>
    public required IReadOnlyList<DerivativeKind> Kinds
    {
        get => RowsOf(RecordKinds.DerivativeKinds);
        init => _rows = Replaced(RecordKinds.DerivativeKinds, value);
    }

    /// <summary>The derivative records.</summary>
    public required IReadOnlyList<Derivative> Derivatives
    {
        get => RowsOf(RecordKinds.Derivatives);
        init => _rows = Replaced(RecordKinds.Derivatives, value);
    }

    /// <summary>The questions spot tests ask.</summary>
    public required IReadOnlyList<SpotTestQuestion> Questions
    {
        get => RowsOf(RecordKinds.SpotTestQuestions);
        init => _rows = Replaced(RecordKinds.SpotTestQuestions, value);
    }

    /// <summary>The spot tests.</summary>
    public required IReadOnlyList<SpotTest> SpotTests
    {
        get => RowsOf(RecordKinds.SpotTests);
        init => _rows = Replaced(RecordKinds.SpotTests, value);
    }

    /// <summary>How classes of parents answer the tests.</summary>
    public required IReadOnlyList<SpotTestResponse> Responses
    {
        get => RowsOf(RecordKinds.SpotTestResponses);
        init => _rows = Replaced(RecordKinds.SpotTestResponses, value);
    }

    /// <summary>The ordered vocabulary of colours, by rank.</summary>
    public required IReadOnlyList<Colour> Colours
    {
        get => RowsOf(RecordKinds.Colours);
        init => _rows = Replaced(RecordKinds.Colours, value);
    }

    /// <summary>The colours expected of classes of parents.</summary>
    public required IReadOnlyList<ColourExpectation> ColourExpectations
    {
        get => RowsOf(RecordKinds.ColourExpectations);
        init => _rows = Replaced(RecordKinds.ColourExpectations, value);
    }

    /// <summary>The melting-point standards.</summary>
    public required IReadOnlyList<MeltingPointStandard> Standards
    {
        get => RowsOf(RecordKinds.MeltingPointStandards);
        init => _rows = Replaced(RecordKinds.MeltingPointStandards, value);
    }

    /// <summary>A table without rows.</summary>
    /// <param name="layout">The kinds of record it is to hold.</param>
    /// <param name="version">Its number.</param>
    public static ReferenceTable Empty(TableLayout layout, int version) =>
        Nothing with { Version = version, Layout = layout, Rows = [] };

    /// <summary>Every list of the table. Shape: in the order of the table's layout, empty ones too.</summary>
    public IEnumerable<(RecordKind Kind, IReadOnlyList<object> Rows)> Lists() =>
        _layout.Kinds.Select(kind => (kind, RowsOf(kind)));

    /// <summary>The kind of record a list of this table holds.</summary>
    /// <param name="tableName">Name of the list.</param>
    /// <returns>Missing: null, the table has no such list.</returns>
    public RecordKind? KindOf(string tableName) => _layout.Find(tableName);

    /// <summary>The records of one kind.</summary>
    /// <param name="kind">The kind.</param>
    public IReadOnlyList<object> RowsOf(RecordKind kind) => _rows.GetValueOrDefault(kind) ?? [];

    /// <summary>The records of one kind, typed.</summary>
    /// <param name="kind">The kind.</param>
    public IReadOnlyList<T> RowsOf<T>(RecordKind<T> kind)
        where T : class => (IReadOnlyList<T>?)_rows.GetValueOrDefault(kind) ?? [];

    /// <summary>The same table with other records of one kind.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="rows">The records.</param>
    public ReferenceTable With(RecordKind kind, IEnumerable<object> rows)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return this with { Rows = Replaced(kind, kind.ListOf(rows)) };
    }

    /// <summary>The same table, every list in the order of its kind.</summary>
    public ReferenceTable Ordered() =>
        this with { Rows = _rows.ToDictionary(list => list.Key, list => list.Key.Ordered(list.Value)) };

    private TableLayout Layout
    {
        init => _layout = value;
    }

    private Dictionary<RecordKind, IReadOnlyList<object>> Rows
    {
        init => _rows = value;
    }

    private Dictionary<RecordKind, IReadOnlyList<object>> Replaced(RecordKind kind, IReadOnlyList<object> rows) =>
        new(_rows) { [kind] = rows };
}

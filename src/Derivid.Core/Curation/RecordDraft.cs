namespace Derivid.Core.Curation;

/// <summary>A record on its way in from a file: what could be read of it, and what is still to be worked out.</summary>
/// <remarks>
/// What a cell that can't be read stands for is not known, and yet the rest of its row is to be held against the rules. So the
/// record is made twice, with other values there each time, and only what is found both times is said. Thread safety: none.
/// </remarks>
public sealed class RecordDraft
{
    /// <summary>In how many ways unread cells are filled.</summary>
    public const int Variants = 2;

    private static readonly double[] Numbers = [1.5, 777.25];

    private readonly object?[] _values;
    private readonly List<RecordColumn> _unread = [];
    private readonly List<RecordColumn> _leftOut = [];

    /// <summary>A draft of which nothing is known.</summary>
    /// <param name="kind">The kind of record.</param>
    public RecordDraft(RecordKind kind)
    {
        ArgumentNullException.ThrowIfNull(kind);
        Kind = kind;
        _values = new object?[kind.Columns.Count];
    }

    /// <summary>The kind of record.</summary>
    public RecordKind Kind { get; }

    /// <summary>Whether every cell could be read and nothing that must be there is missing.</summary>
    public bool IsWhole => _unread.Count == 0 && !Missing.Any();

    /// <summary>Columns that must hold something and hold nothing. Shape: in the order of the kind; none of them unread.</summary>
    public IEnumerable<RecordColumn> Missing =>
        Kind.Columns.Where((column, place) => column.MustHold && _values[place] is null && !_unread.Contains(column));

    /// <summary>A value, by the record's property. Missing: null, it is empty or can't be read.</summary>
    /// <param name="field">Name of the property.</param>
    public object? this[string field]
    {
        get => _values[PlaceOf(field)];
        set => _values[PlaceOf(field)] = value;
    }

    /// <summary>Takes what a cell says.</summary>
    /// <param name="column">The column.</param>
    /// <param name="value">The value. Missing: null.</param>
    public void Take(RecordColumn column, object? value)
    {
        ArgumentNullException.ThrowIfNull(column);
        _values[PlaceOf(column.Field)] = value;
    }

    /// <summary>Says that a cell can't be read.</summary>
    /// <param name="column">The column.</param>
    public void Unread(RecordColumn column) => _unread.Add(column);

    /// <summary>Says that fields follow from what is at fault, so that nothing is known of those that are empty.</summary>
    /// <param name="fields">Names of the properties.</param>
    internal void Unknown(params IEnumerable<string> fields)
    {
        foreach (var field in fields.Where(Lacks))
        {
            _unread.Add(Kind.Columns[PlaceOf(field)]);
        }
    }

    /// <summary>Says that the file has no such column: what is listed stays.</summary>
    /// <param name="column">The column.</param>
    public void LeaveOut(RecordColumn column) => _leftOut.Add(column);

    /// <summary>Whether the cell of a field can't be read, so that nothing is known of it.</summary>
    /// <param name="field">Name of the property.</param>
    public bool IsUnread(string field) => _unread.Any(column => column.Field == field);

    /// <summary>Whether a field is empty, and not for want of reading it.</summary>
    /// <param name="field">Name of the property.</param>
    public bool Lacks(string field) => this[field] is null && !IsUnread(field);

    /// <summary>Takes over what the file has no column for and what doesn't follow from the rest of it.</summary>
    /// <param name="listed">The record as it is listed.</param>
    public void KeepOf(object listed)
    {
        foreach (var column in _leftOut.Where(column => this[column.Field] is null))
        {
            Take(column, column.Of(listed));
            _unread.Remove(column);
        }
    }

    /// <summary>Whether a record says the same, whatever names it.</summary>
    /// <param name="record">A record of the kind.</param>
    public bool SaysTheSame(object record) => Kind.Columns
        .Where(column => !Kind.Key.Contains(column) && !_leftOut.Contains(column))
        .All(column => RecordKind.AreSame(column.Of(record), _values[PlaceOf(column.Field)] ?? column.Nothing));

    /// <summary>Makes the record.</summary>
    /// <param name="variant">In which way cells that can't be read are filled, from 0; a whole record is the same in all.</param>
    /// <param name="number">Sets it apart from others with unread cells.</param>
    public object Make(int variant, int number) => Kind.Make([.. Kind.Columns.Select((column, place) =>
        _unread.Contains(column) || (_values[place] is null && column.MustHold)
            ? (variant > 0 && !column.MustHold ? column.Nothing : StandIn(column, variant, number))
            : _values[place] ?? column.Nothing)]);

    // What names a record stays the same, so that what is found both times can be told to be of one.
    private object StandIn(RecordColumn column, int variant, int number) => column.Content switch
    {
        CellContent.Text when Kind.Key.Contains(column) => FormattableString.Invariant($"unread-{number}"),
        CellContent.Text => FormattableString.Invariant($"unread {number} {variant}"),
        CellContent.Number => Kind.Key.Contains(column) ? Numbers[0] : Numbers[variant],
        CellContent.WholeNumber => Kind.Key.Contains(column) ? 1 : 1 + variant,
        CellContent.Word => column.Vocabulary[Kind.Key.Contains(column) || variant == 0 ? 0 : ^1],
        CellContent.Texts => Array.Empty<string>(),
        CellContent.Numbers => Array.Empty<double>(),
    };

    private int PlaceOf(string field)
    {
        for (var place = 0; place < Kind.Columns.Count; place++)
        {
            if (Kind.Columns[place].Field == field)
            {
                return place;
            }
        }

        throw new ArgumentException($"{Kind} has no {field}.", nameof(field));
    }
}

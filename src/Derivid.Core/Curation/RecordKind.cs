using System.Collections;
using System.Linq.Expressions;

namespace Derivid.Core.Curation;

/// <summary>One kind of record: where the table keeps it, what it is made of, what names it, what holds for it.</summary>
/// <remarks>
/// The one registration of a kind. Reading and writing of CSV and JSON, import, proposals, differences, release, order,
/// hash and the database are written once, over it; see <see cref="RecordKinds"/>. Thread safety: immutable.
/// </remarks>
public abstract class RecordKind
{
    /// <summary>Parts the members of a joined key.</summary>
    public const char KeySeparator = ':';

    // Texts by code units, so that no engine's collation decides.
    private static readonly Comparer<object?> Values = Comparer<object?>.Create((one, other) =>
        (one, other) is (string text, string with) ? string.CompareOrdinal(text, with) : Comparer<object?>.Default.Compare(one, other));

    private readonly IReadOnlyList<RecordColumn> _order;
    private readonly Func<object?[], object> _make;

    private protected RecordKind(
        Type type, string tableName, ColumnLine[] columns, string[] key, string[]? order, string? noun)
    {
        (RecordType, TableName, Noun) = (type, tableName, noun);
        Columns = [.. columns.Select(line => new RecordColumn(type.GetProperty(line.Field)!, line))];
        Key = [.. key.Select(field => Columns.Single(column => column.Field == field))];
        _order = order is null ? Key : [.. order.Select(field => Columns.Single(column => column.Field == field))];
        _make = Maker(type, Columns);
    }

    /// <summary>Name of the list, as the table's files and addresses write it, such as "parent-constants".</summary>
    public string TableName { get; }

    /// <summary>What one is called where a record names one that isn't there. Missing: null, those that are there are listed.</summary>
    public string? Noun { get; }

    /// <summary>Name of the file in the seed tables.</summary>
    public string FileName => TableName + ".csv";

    /// <summary>The record itself.</summary>
    public Type RecordType { get; }

    /// <summary>What a record is made of. Shape: in the order of the files.</summary>
    public IReadOnlyList<RecordColumn> Columns { get; }

    /// <summary>The columns that together name a record. Shape: at least one.</summary>
    public IReadOnlyList<RecordColumn> Key { get; }

    /// <summary>What people know a record by: its name, text or citation, the first column that is no part of its key.</summary>
    public RecordColumn Title => Columns.First(column => !Key.Contains(column));

    /// <summary>What names a record within its table: the cells of its key, joined by ":".</summary>
    /// <param name="record">A record of this kind.</param>
    public string KeyOf(object record) =>
        Key.Count == 1 ? Key[0].Write(record) : string.Join(KeySeparator, Key.Select(column => column.Write(record)));

    /// <summary>Why a text can't be what names a record; see <see cref="KeyOf"/>.</summary>
    /// <param name="key">The text.</param>
    /// <returns>What is allowed, in a few words. Missing: null, it can be.</returns>
    public string? WhyNoKey(string key)
    {
        ArgumentNullException.ThrowIfNull(key);
        var parts = Key.Count == 1 ? [key] : key.Split(KeySeparator);
        if (parts.Length != Key.Count)
        {
            return $"{string.Join(KeySeparator, Key.Select(column => column.Name))}, the parts of the key joined by \"{KeySeparator}\"";
        }

        return Key.Zip(parts, (column, part) => column.Content == CellContent.Text
            ? FormRules.IsKey(part) ? null : FormRules.AllowedKey
            : column.Read(part).Allowed is { } allowed ? $"in the place of {column.Name} {allowed}" : null).FirstOrDefault(fault => fault is not null);
    }

    /// <summary>Makes a record.</summary>
    /// <param name="values">Its values. Shape: one a column, in their order.</param>
    public object Make(object?[] values) => _make(values);

    /// <summary>The fields in which two records differ, lists compared item by item.</summary>
    /// <param name="before">A record of this kind.</param>
    /// <param name="after">Another.</param>
    /// <returns>Shape: names in the order of the columns; empty when the records are equal.</returns>
    public IReadOnlyList<string> ChangedFields(object before, object after) =>
        [.. Columns.Where(column => !AreSame(column.Of(before), column.Of(after))).Select(column => column.Field)];

    /// <summary>Its table's name.</summary>
    public override string ToString() => TableName;

    /// <summary>A list of this kind, in order: by key, unless the kind has an order of its own.</summary>
    /// <param name="rows">Records of this kind.</param>
    internal IReadOnlyList<object> Ordered(IReadOnlyList<object> rows)
    {
        var ordered = rows.OrderBy(_order[0].Of, Values);
        foreach (var column in _order.Skip(1))
        {
            ordered = ordered.ThenBy(column.Of, Values);
        }

        return ListOf(ordered);
    }

    /// <summary>A list of records of this kind as one of their type.</summary>
    /// <param name="rows">Records of this kind.</param>
    internal abstract IReadOnlyList<object> ListOf(IEnumerable<object> rows);

    /// <summary>Holds a record against the rules of its kind.</summary>
    /// <param name="record">A record of this kind.</param>
    /// <param name="index">The table it is meant for.</param>
    /// <param name="findings">Takes what is wrong.</param>
    internal abstract void Check(object record, TableIndex index, RecordFindings findings);

    /// <summary>Fills in what follows from the rest of a draft, and what its file has no column for.</summary>
    /// <param name="draft">A draft of this kind.</param>
    /// <param name="surroundings">What it is meant for and comes with.</param>
    public abstract void WorkOut(RecordDraft draft, DraftSurroundings surroundings);

    internal static bool AreSame(object? before, object? after) => (before, after) switch
    {
        (string one, string other) => one == other,
        (IEnumerable one, IEnumerable other) => one.Cast<object>().SequenceEqual(other.Cast<object>()),
        _ => Equals(before, after),
    };

    // A call of the constructor with what it takes by name, and of the other properties' initialisers.
    private static Func<object?[], object> Maker(Type type, IReadOnlyList<RecordColumn> columns)
    {
        var values = Expression.Parameter(typeof(object[]));
        var given = columns.Index().ToDictionary(
            column => column.Item.Field,
            column => (Expression)Expression.Convert(
                Expression.ArrayIndex(values, Expression.Constant(column.Index)), type.GetProperty(column.Item.Field)!.PropertyType),
            StringComparer.Ordinal);
        var constructor = type.GetConstructors().Single();
        var taken = constructor.GetParameters().Select(parameter => parameter.Name!).ToList();
        return Expression.Lambda<Func<object?[], object>>(
            Expression.MemberInit(
                Expression.New(constructor, taken.Select(name => given[name])),
                given.Where(value => !taken.Contains(value.Key))
                    .Select(value => Expression.Bind(type.GetProperty(value.Key)!, value.Value))),
            values).Compile();
    }
}

/// <summary>One kind of record, typed.</summary>
/// <typeparam name="T">The record.</typeparam>
public sealed class RecordKind<T> : RecordKind
    where T : class
{
    private readonly Action<T, TableIndex, RecordFindings>? _rules;
    private readonly Action<RecordDraft, DraftSurroundings> _workOut;

    /// <summary>Registers a kind.</summary>
    /// <param name="tableName">Name of the list.</param>
    /// <param name="columns">
    /// Its columns, in the order of the files; a name alone is a line too. Shape: every property of the record that can be set.
    /// </param>
    /// <param name="key">The properties that together name a record.</param>
    /// <param name="order">The properties a list is ordered by. Missing: null, the key.</param>
    /// <param name="noun">What one is called where a record names one that isn't there. Missing: null, those that are there are listed.</param>
    /// <param name="rules">What holds for a record beside its form. Missing: null, nothing.</param>
    /// <param name="workOut">Fills in what follows from the rest of a draft. Missing: null, nothing does.</param>
    public RecordKind(
        string tableName,
        ColumnLine[] columns,
        string[] key,
        string[]? order = null,
        string? noun = null,
        Action<T, TableIndex, RecordFindings>? rules = null,
        Action<RecordDraft, DraftSurroundings>? workOut = null)
        : base(typeof(T), tableName, columns, key, order, noun) => (_rules, _workOut) = (rules, workOut ?? WorkedOut.Keep);

    /// <inheritdoc/>
    public override void WorkOut(RecordDraft draft, DraftSurroundings surroundings) => _workOut(draft, surroundings);

    /// <inheritdoc/>
    internal override IReadOnlyList<object> ListOf(IEnumerable<object> rows) =>
        rows as IReadOnlyList<T> ?? [.. rows.Cast<T>()];

    /// <inheritdoc/>
    internal override void Check(object record, TableIndex index, RecordFindings findings) =>
        _rules?.Invoke((T)record, index, findings);
}

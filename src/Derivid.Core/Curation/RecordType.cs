using System.Collections;
using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>One kind of record: where the table keeps it, what names it, what it is made of.</summary>
/// <remarks>Lets what is true of all kinds (differences, import, export) be written once. Thread safety: immutable.</remarks>
public abstract class RecordType
{
    private protected RecordType(RecordKind kind, string tableName, Type type)
    {
        (Kind, TableName, Type) = (kind, tableName, type);
        Fields = [.. type.GetProperties().Select(property => new RecordField(property.Name, property.GetValue))];
    }

    /// <summary>The kind.</summary>
    public RecordKind Kind { get; }

    /// <summary>Name of the list, as the table's files and addresses write it, such as "parent-constants".</summary>
    public string TableName { get; }

    /// <summary>The record itself.</summary>
    public Type Type { get; }

    /// <summary>What a record is made of. Shape: in the order declared.</summary>
    public IReadOnlyList<RecordField> Fields { get; }

    /// <summary>The records of a table.</summary>
    /// <param name="table">The table.</param>
    public abstract IReadOnlyList<object> RowsOf(ReferenceTable table);

    /// <summary>What names a record within its table; see <see cref="RecordTypes"/> for kinds without a key of their own.</summary>
    /// <param name="record">A record of this kind.</param>
    public abstract string KeyOf(object record);

    /// <summary>The same table with other records of this kind.</summary>
    /// <param name="table">The table.</param>
    /// <param name="rows">The records.</param>
    public abstract ReferenceTable With(ReferenceTable table, IEnumerable<object> rows);

    /// <summary>The fields in which two records differ, lists compared item by item.</summary>
    /// <param name="before">A record of this kind.</param>
    /// <param name="after">Another.</param>
    /// <returns>Shape: names in the order declared; empty when the records are equal.</returns>
    public IReadOnlyList<string> ChangedFields(object before, object after) =>
        [.. Fields.Where(field => !AreSame(field.Of(before), field.Of(after))).Select(field => field.Name)];

    private static bool AreSame(object? before, object? after) => (before, after) switch
    {
        (string one, string other) => one == other,
        (IEnumerable one, IEnumerable other) => one.Cast<object>().SequenceEqual(other.Cast<object>()),
        _ => Equals(before, after),
    };
}

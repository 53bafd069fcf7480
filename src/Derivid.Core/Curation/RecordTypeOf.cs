using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>One kind of record, typed.</summary>
/// <typeparam name="T">The record.</typeparam>
internal sealed class RecordTypeOf<T>(
    RecordKind kind,
    string tableName,
    Func<T, string> key,
    Func<ReferenceTable, IReadOnlyList<T>> rows,
    Func<ReferenceTable, IReadOnlyList<T>, ReferenceTable> with) : RecordType(kind, tableName, typeof(T))
    where T : class
{
    /// <inheritdoc/>
    public override IReadOnlyList<object> RowsOf(ReferenceTable table) => rows(table);

    /// <inheritdoc/>
    public override string KeyOf(object record) => key((T)record);

    /// <inheritdoc/>
    public override ReferenceTable With(ReferenceTable table, IEnumerable<object> rows) =>
        with(table, [.. rows.Cast<T>()]);
}

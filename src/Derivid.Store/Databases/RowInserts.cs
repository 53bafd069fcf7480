using System.Data.Common;
using System.Globalization;
using Derivid.Core.Compounds;
using Derivid.Store.Tables;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using Microsoft.EntityFrameworkCore.Storage;

namespace Derivid.Store.Databases;

/// <summary>What becomes of a stored row that has the key of one about to be stored.</summary>
internal enum StoredRow
{
    /// <summary>There is none; the database refuses the statement otherwise.</summary>
    None,

    /// <summary>It stays as it is, and the other is passed over.</summary>
    Stays,

    /// <summary>It gives way to the other.</summary>
    GivesWay,
}

/// <summary>Stores many rows at once, in plain statements made from the model.</summary>
/// <remarks>
/// EF Core has no insert that passes over rows already there, or replaces them; both engines have, in the same words.
/// Going past the change tracker keeps the first start short, and nothing is gained from tracking rows that never change.
/// </remarks>
internal static class RowInserts
{
    // Well below either engine's limit of parameters.
    private const int ValuesPerStatement = 1000;

    /// <summary>Stores rows, a statement at a time, so that any number can be streamed.</summary>
    /// <param name="context">The context; several statements are one only inside its transaction.</param>
    /// <param name="rows">The rows. Shape: of one type; no key twice.</param>
    /// <param name="stored">What becomes of a stored row with the key of one of them.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The first part of the key of every row that was stored. Shape: no order promised.</returns>
    public static async Task<IReadOnlySet<string>> InsertAsync<T>(
        this DerividContext context, IEnumerable<T> rows, StoredRow stored, CancellationToken cancellation)
        where T : class
    {
        var keys = new HashSet<string>(StringComparer.Ordinal);
        var entity = context.Model.FindEntityType(typeof(T))!;
        foreach (var some in rows.Chunk(RowsPerStatement(entity)))
        {
            await InsertAsync(context, entity, some, fromVersion: null, stored, keys, cancellation);
        }

        return keys;
    }

    /// <summary>Stores a version and every row of its table, inside the context's transaction.</summary>
    /// <param name="context">The context, with a transaction open.</param>
    /// <param name="table">The table.</param>
    /// <param name="version">What is kept of the version itself.</param>
    /// <param name="cancellation">Gives up early.</param>
    public static async Task InsertAsync(
        this DerividContext context, ReferenceTable table, TableVersion version, CancellationToken cancellation)
    {
        await context.InsertAsync([version], StoredRow.None, cancellation);
        foreach (var (kind, rows) in table.Lists())
        {
            var entity = context.Model.FindEntityType(kind.RecordType)!;
            foreach (var some in rows.Chunk(RowsPerStatement(entity)))
            {
                await InsertAsync(context, entity, some, table.Version, StoredRow.None, [], cancellation);
            }
        }
    }

    private static async Task InsertAsync(
        DerividContext context, IEntityType entity, object[] rows, int? fromVersion, StoredRow stored, HashSet<string> keys,
        CancellationToken cancellation)
    {
        await context.Database.OpenConnectionAsync(cancellation);
        try
        {
            await using var command = context.Database.GetDbConnection().CreateCommand();
            command.Transaction = context.Database.CurrentTransaction?.GetDbTransaction();
            command.CommandTimeout = context.Database.GetCommandTimeout() ?? command.CommandTimeout;
            Fill(command, entity, rows, fromVersion, stored);
            await using var reader = await command.ExecuteReaderAsync(cancellation);
            while (await reader.ReadAsync(cancellation))
            {
                keys.Add(Convert.ToString(reader.GetValue(0), CultureInfo.InvariantCulture)!);
            }
        }
        finally
        {
            await context.Database.CloseConnectionAsync();
        }
    }

    private static void Fill(DbCommand command, IEntityType entity, object[] rows, int? fromVersion, StoredRow stored)
    {
        var properties = Stored(entity);
        var places = new List<string>();
        foreach (var row in rows)
        {
            var names = properties.Select(property => Add(
                command, property, property.IsShadowProperty() ? fromVersion : property.GetGetter().GetClrValue(row)));
            places.Add($"({string.Join(", ", names)})");
        }

        var key = entity.FindPrimaryKey()!.Properties;
        command.CommandText =
            $"INSERT INTO {entity.GetTableName()} ({Columns(properties)}) VALUES {string.Join(", ", places)}"
            + stored switch
            {
                StoredRow.None => "",
                StoredRow.Stays => $" ON CONFLICT ({Columns(key)}) DO NOTHING",
                StoredRow.GivesWay => $" ON CONFLICT ({Columns(key)}) DO UPDATE SET " + string.Join(
                    ", ", properties.Except(key).Select(property => $"{Column(property)} = excluded.{Column(property)}")),
            }
            + $" RETURNING {Column(key[0])}";
    }

    private static int RowsPerStatement(IEntityType entity) => ValuesPerStatement / Stored(entity).Count;

    private static List<IProperty> Stored(IEntityType entity) =>
        [.. entity.GetProperties().Where(property => property.Name == VersionedRows.From || !property.IsShadowProperty())];

    private static string Columns(IEnumerable<IProperty> properties) => string.Join(", ", properties.Select(Column));

    private static string Column(IProperty property) => $"\"{property.GetColumnName()}\"";

    private static string Add(DbCommand command, IProperty property, object? value)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"@p{command.Parameters.Count}");
        command.Parameters.Add(property.GetRelationalTypeMapping().CreateParameter(command, name, value, property.IsNullable));
        return name;
    }
}

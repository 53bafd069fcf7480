using System.Data.Common;
using System.Globalization;
using Derivid.Core.Compounds;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using Microsoft.EntityFrameworkCore.Storage;

namespace Derivid.Store.Tables;

/// <summary>Stores many rows of the table at once, in plain statements made from the model.</summary>
/// <remarks>
/// Going past the change tracker takes most of the seeding out of the first start (measured: see the commit), and
/// nothing is gained from tracking rows that never change.
/// </remarks>
internal static class RowInserts
{
    // About a thousand values in a statement, well below either engine's limit of parameters.
    private const int RowsPerStatement = 50;

    /// <summary>Stores a version and every row of its table, inside the context's transaction.</summary>
    /// <param name="context">The context, with a transaction open.</param>
    /// <param name="table">The table.</param>
    /// <param name="version">What is kept of the version itself.</param>
    /// <param name="cancellation">Gives up early.</param>
    public static async Task InsertAsync(
        this DerividContext context, ReferenceTable table, TableVersion version, CancellationToken cancellation)
    {
        IEnumerable<IEnumerable<object>> lists =
        [
            [version], table.Sources, table.Parents, table.Constants, table.Kinds, table.Derivatives,
            table.Questions, table.SpotTests, table.Responses, table.Colours, table.ColourExpectations, table.Standards,
        ];
        foreach (var rows in lists.SelectMany(list => list.Chunk(RowsPerStatement)))
        {
            await using var command = context.Database.GetDbConnection().CreateCommand();
            command.Transaction = context.Database.CurrentTransaction!.GetDbTransaction();
            Fill(command, context.Model.FindEntityType(rows[0].GetType())!, rows, table.Version);
            await command.ExecuteNonQueryAsync(cancellation);
        }
    }

    private static void Fill(DbCommand command, IEntityType entity, object[] rows, int version)
    {
        var properties = entity.GetProperties()
            .Where(property => property.Name == VersionInterval.From || !property.IsShadowProperty()).ToList();
        var places = new List<string>();
        foreach (var row in rows)
        {
            var names = properties.Select(property => Add(
                command, property, property.IsShadowProperty() ? version : property.GetGetter().GetClrValue(row)));
            places.Add($"({string.Join(", ", names)})");
        }

        var columns = properties.Select(property => $"\"{property.GetColumnName()}\"");
        command.CommandText =
            $"INSERT INTO {entity.GetTableName()} ({string.Join(", ", columns)}) VALUES {string.Join(", ", places)}";
    }

    private static string Add(DbCommand command, IProperty property, object? value)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"@p{command.Parameters.Count}");
        command.Parameters.Add(property.GetRelationalTypeMapping().CreateParameter(command, name, value, property.IsNullable));
        return name;
    }
}

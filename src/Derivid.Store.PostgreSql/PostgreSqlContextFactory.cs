using Derivid.Core.Curation;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace Derivid.Store.PostgreSql;

/// <summary>Makes a context for the migration tool; it never connects.</summary>
public sealed class PostgreSqlContextFactory : IDesignTimeDbContextFactory<DerividContext>
{
    /// <inheritdoc />
    public DerividContext CreateDbContext(string[] args)
    {
        var options = new DbContextOptionsBuilder<DerividContext>();
        new PostgreSqlEngine("Host=design").Configure(options);
        return new DerividContext(options.Options, TableLayout.Standard);
    }
}

using Derivid.Core.Curation;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace Derivid.Store.Sqlite;

/// <summary>Makes a context for the migration tool; it never opens the file.</summary>
public sealed class SqliteContextFactory : IDesignTimeDbContextFactory<DerividContext>
{
    /// <inheritdoc />
    public DerividContext CreateDbContext(string[] args)
    {
        var options = new DbContextOptionsBuilder<DerividContext>();
        new SqliteEngine("Data Source=design.db").Configure(options);
        return new DerividContext(options.Options, TableLayout.Standard);
    }
}

using System.Globalization;

namespace Derivid.Store.Databases;

/// <summary>The database's schema is older than this build needs, and bringing it up to date is left to somebody else.</summary>
public sealed class DatabaseBehindException : Exception
{
    /// <summary>Takes how far behind it is.</summary>
    /// <param name="missing">How many migrations it lacks.</param>
    public DatabaseBehindException(int missing)
        : base(string.Create(
            CultureInfo.InvariantCulture,
            $"The database lacks {missing} migrations of this build; run the service once with --migrate, as the role that owns the tables."))
    {
    }
}

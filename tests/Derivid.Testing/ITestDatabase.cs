using Derivid.Store.Databases;

namespace Derivid.Testing;

/// <summary>An empty database that lasts as long as a test.</summary>
public interface ITestDatabase : IAsyncDisposable
{
    /// <summary>Connects to it.</summary>
    string ConnectionString { get; }

    /// <summary>Makes an engine on it, as one more process would.</summary>
    DatabaseEngine NewEngine();
}

namespace Derivid.Store.Databases;

/// <summary>The engines Derivid stores on.</summary>
public enum DatabaseEngineName
{
    /// <summary>A file beside the service; one process at a time.</summary>
    Sqlite,

    /// <summary>A server that several instances share.</summary>
    PostgreSql,
}

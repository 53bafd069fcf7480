using Derivid.Store.Databases;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Access;

/// <summary>One key that protects the sessions and forms of the page, shared by all instances.</summary>
/// <remarks>Whoever can read it and gets hold of a session's cookie can read that cookie; neither is worth anything alone.</remarks>
public sealed class ProtectionKey
{
    /// <summary>The framework's name of it, each once.</summary>
    public required string Name { get; init; }

    /// <summary>The key as the framework writes it, as XML.</summary>
    public required string Xml { get; init; }

    /// <summary>When it was made. Units: UTC.</summary>
    public required DateTime CreatedAtUtc { get; init; }
}

/// <summary>Keeps the keys that protect sessions and forms.</summary>
/// <param name="database">The database.</param>
/// <param name="time">Dates them.</param>
public sealed class ProtectionKeys(DerividDatabase database, TimeProvider time)
{
    /// <summary>All keys, oldest first.</summary>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: XML texts.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<string>> AllAsync(CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.ProtectionKeys.AsNoTracking().OrderBy(key => key.CreatedAtUtc).ThenBy(key => key.Name)
            .Select(key => key.Xml).ToListAsync(token),
        cancellation);

    /// <summary>Keeps a key, unless it is there already.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="xml">The key.</param>
    /// <param name="cancellation">Gives up early, keeping nothing.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was kept.</exception>
    public Task AddAsync(string name, string xml, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.InsertAsync(
            [new ProtectionKey { Name = name, Xml = xml, CreatedAtUtc = time.GetUtcNow().UtcDateTime }], StoredRow.Stays, token),
        cancellation);
}

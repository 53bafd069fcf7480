using System.Security.Cryptography;
using Derivid.Store.Databases;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Access;

/// <summary>A secret that a service made for itself.</summary>
public sealed class ServerSecret
{
    /// <summary>What it is for, each once.</summary>
    public required string Name { get; init; }

    /// <summary>Its bytes, in Base64.</summary>
    public required string Value { get; init; }

    /// <summary>When it was made. Units: UTC.</summary>
    public required DateTime CreatedAtUtc { get; init; }
}

/// <summary>Keeps the secrets that all instances of a service share and nobody is ever shown.</summary>
/// <remarks>They are in a backup of the database, and in no export, log or audit entry.</remarks>
/// <param name="database">The database.</param>
/// <param name="time">Dates them.</param>
public sealed class ServerSecrets(DerividDatabase database, TimeProvider time)
{
    /// <summary>
    /// Name of the secret that a course's hand-outs of unknowns are drawn with. One for all courses would draw alike for two
    /// classes with one seed, and let whoever has a course of their own try seeds for another's.
    /// </summary>
    /// <param name="course">The course.</param>
    public static string HandOutsOf(string course) => "hand-outs/" + course;

    /// <summary>
    /// Name of the secret that the marking codes of a course are derived from. One of its own: who could work codes out could join
    /// what is marked to the roster, in this course or, were it one for all, in any.
    /// </summary>
    /// <param name="course">The course.</param>
    public static string MarkingOf(string course) => "marking/" + course;

    /// <summary>A secret; made when it is asked for the first time, then always the same.</summary>
    /// <param name="name">What it is for.</param>
    /// <param name="length">Units: bytes.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task<byte[]> OfAsync(string name, int length, CancellationToken cancellation)
    {
        if (await FindAsync(name, cancellation) is not { } kept)
        {
            // Of two instances that make it at the same moment one is first; its own holds.
            var made = new ServerSecret
            {
                Name = name,
                Value = Convert.ToBase64String(RandomNumberGenerator.GetBytes(length)),
                CreatedAtUtc = time.GetUtcNow().UtcDateTime,
            };
            await database.RunAsync((context, token) => context.InsertAsync([made], StoredRow.Stays, token), cancellation);
            kept = await FindAsync(name, cancellation) ?? throw new InvalidOperationException($"The secret {name} was stored and is not there.");
        }

        return Convert.FromBase64String(kept);
    }

    private Task<string?> FindAsync(string name, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.ServerSecrets.AsNoTracking()
            .Where(secret => secret.Name == name).Select(secret => (string?)secret.Value).FirstOrDefaultAsync(token),
        cancellation);
}

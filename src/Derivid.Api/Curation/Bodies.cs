using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Contracts;

namespace Derivid.Api.Curation;

/// <summary>Reads a body into a wire record.</summary>
internal static class Bodies
{
    /// <summary>Reads, checks and translates.</summary>
    /// <typeparam name="T">The wire record; the wire context must know it.</typeparam>
    /// <param name="request">The request.</param>
    /// <param name="mostBytes">Largest body accepted. Units: bytes.</param>
    public static async Task<Outcome<T>> ReadAsync<T>(HttpRequest request, int mostBytes)
        where T : class
    {
        if (!(await JsonBody.ReadAsync(request, mostBytes)).Succeeded(out var json, out var problem))
        {
            return problem;
        }

        using (json)
        {
            var errors = new FieldErrors();
            Shape.Check(json.RootElement, typeof(T), "", errors);
            return errors.ToProblem() is { } wrong ? wrong : (T)json.RootElement.Deserialize(typeof(T), WireJson.Context)!;
        }
    }
}

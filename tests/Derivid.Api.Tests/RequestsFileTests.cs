using System.Text.RegularExpressions;
using Derivid.Testing;

namespace Derivid.Api.Tests;

/// <summary>The requests offered to newcomers in deploy/requests.http work.</summary>
public sealed partial class RequestsFileTests(SqliteService service)
{
    [Fact]
    public async Task EveryRequestIsAnsweredAsItsTitleSays()
    {
        var text = await File.ReadAllTextAsync(RepositoryFiles.At("deploy", "requests.http"), TestContext.Current.CancellationToken);
        var blocks = Separator().Split(text)[1..];

        Assert.True(blocks.Length > 10);
        foreach (var block in blocks)
        {
            var lines = block.Split('\n');
            var (method, address) = lines[1].Split(' ') switch { [var m, var a] => (m, a), _ => ("", "") };
            using var request = new HttpRequestMessage(
                new HttpMethod(method), address.Replace("{{derivid}}", "", StringComparison.Ordinal));
            if (method == "POST")
            {
                request.Content = Requests.Json(string.Join('\n', lines[3..]));
            }

            using var response = await service.Client.SendAsync(request, TestContext.Current.CancellationToken);
            var isRefusal = lines[0].Contains("is refused", StringComparison.Ordinal);
            Assert.True(isRefusal ? (int)response.StatusCode == 422 : response.IsSuccessStatusCode, block);
        }
    }

    [GeneratedRegex("^###", RegexOptions.Multiline)]
    private static partial Regex Separator();
}

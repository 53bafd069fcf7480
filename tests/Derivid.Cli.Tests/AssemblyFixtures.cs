using Derivid.Cli.Tests;

[assembly: AssemblyFixture(typeof(ServiceUnderTest))]

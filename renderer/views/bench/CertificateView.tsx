export function CertificateView({ testId }: { testId: string }) {
  return <p>{testId}</p>;
}
